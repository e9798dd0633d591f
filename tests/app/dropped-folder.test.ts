import { describe, expect, it } from 'vitest';
import { bytesOf, droppedFiles } from '../../src/app/state/chosen-files.ts';

/** A folder as a browser hands it over: entries in portions, the last one empty. */
interface Folder {
  readonly [name: string]: string | Folder;
}

const PORTION = 2;

describe('a folder dropped', () => {
  it('comes with all that lies in it, whatever the portions, by its way below the folder', async () => {
    const north = { '2022.csv': 'a', '2023.csv': 'b', '2024.csv': 'c', maps: { 'soils.geojson': '{}' } };
    const { files, folder } = await droppedFiles(dropOf([entryOf('north forty', north, '')]));
    expect(folder).toBe('north forty');
    expect(files.map(({ path }) => path)).toEqual(['2022.csv', '2023.csv', '2024.csv', 'maps/soils.geojson']);
    const { name, bytes } = await bytesOf(files[1]);
    expect([name, new TextDecoder().decode(bytes)]).toEqual(['2023.csv', 'b']);
  });

  it('beside loose files keeps its name in their ways', async () => {
    const dropped = dropOf([entryOf('maps', { 'a.csv': '1' }, ''), new File(['2'], 'boundary.geojson')]);
    const { files, folder } = await droppedFiles(dropped);
    expect(folder).toBeNull();
    expect(files.map(({ path }) => path)).toEqual(['boundary.geojson', 'maps/a.csv']);
  });

  it('leaves out what is hidden, and folders that are empty', async () => {
    const odd = { '.git': { config: 'x' }, '.DS_Store': 'x', nothing: {}, 'a.csv': '1' };
    const { files } = await droppedFiles(dropOf([entryOf('odd', odd, '')]));
    expect(files.map(({ path }) => path)).toEqual(['a.csv']);
  });

  it('that never ends is walked eight folders deep, and one of thousands of files is refused', async () => {
    let deep: Folder = { 'bottom.csv': 'x' };
    for (let k = 0; k < 20; k++) deep = { inner: deep, 'own.csv': 'y' };
    const walked = await droppedFiles(dropOf([entryOf('deep', deep, '')]));
    expect(walked.files).toHaveLength(8);
    const many = Object.fromEntries(Array.from({ length: 2500 }, (_, k) => [`${k}.csv`, 'x']));
    await expect(droppedFiles(dropOf([entryOf('many', many, '')]))).rejects.toMatchObject({
      issue: { code: 'folder-too-full', where: 'many' },
    });
  });

  it('with a file that is gone is refused by its name', async () => {
    const gone = {
      ...entryOf('gone.csv', 'x', ''),
      file: (_: unknown, no: (e: Error) => void) => no(new Error('gone')),
    };
    await expect(droppedFiles(dropOf([gone as FileSystemEntry]))).rejects.toMatchObject({
      issue: { code: 'file-not-read', where: 'gone.csv', found: 'gone' },
    });
  });
});

function dropOf(items: readonly (FileSystemEntry | File)[]): DataTransfer {
  const asItem = (item: FileSystemEntry | File) =>
    item instanceof File
      ? { getAsFile: () => item }
      : { webkitGetAsEntry: () => item, getAsFile: () => null };
  return { items: items.map(asItem) } as unknown as DataTransfer;
}

function entryOf(name: string, holds: string | Folder, above: string): FileSystemEntry {
  const fullPath = `${above}/${name}`;
  if (typeof holds === 'string') {
    const file = (take: (file: File) => void) => take(new File([holds], name));
    return { name, fullPath, isFile: true, isDirectory: false, file } as unknown as FileSystemEntry;
  }
  const createReader = () => {
    const left = Object.entries(holds).map(([own, inner]) => entryOf(own, inner, fullPath));
    return { readEntries: (take: (portion: FileSystemEntry[]) => void) => take(left.splice(0, PORTION)) };
  };
  return { name, fullPath, isFile: false, isDirectory: true, createReader } as unknown as FileSystemEntry;
}
