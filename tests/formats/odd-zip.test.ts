import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { readFiles } from '../../src/formats/registry.ts';
import { dbfFile, pointContent, shpFile, textFile } from './small-files.ts';

const CSV = strToU8(
  `lon,lat,v\n${Array.from({ length: 60 }, (_, i) => `-93.${10 + i},42.${10 + i},${i}\n`).join('')}`,
);
const SHP = shpFile(1, [pointContent(-93.5, 42)]).bytes;
const DBF = dbfFile([['ID', 'N', 2]], [[' 1']]).bytes;
type Members = Parameters<typeof zipSync>[0];
const zip = (members: Members, name = 'a.zip'): FileBytes => ({ name, bytes: zipSync(members) });
const two = () => zip({ 'a.csv': CSV, 'b.csv': [CSV, { level: 0 }] });

/** The archive with some of its bytes replaced; `central`: where its table of contents begins. */
function changed(edit: (view: DataView, central: number) => void, file = two()): FileBytes {
  const bytes = file.bytes.slice();
  const view = new DataView(bytes.buffer);
  edit(view, view.getUint32(bytes.length - 6, true));
  return { name: file.name, bytes };
}

async function refused(file: FileBytes, code: string, where = file.name) {
  const { sources, issues } = await readFiles([file]);
  expect(sources).toEqual([]);
  expect(issues).toMatchObject([{ code, severity: 'error', where }]);
  return issues[0];
}

describe('an odd archive', () => {
  it('Z01 cut short at any byte is refused', async () => {
    const { bytes } = two();
    for (let n = 4; n < bytes.length; n++)
      await refused({ name: 'a.zip', bytes: bytes.subarray(0, n) }, 'zip-damaged');
    const issue = await refused({ name: 'a.zip', bytes: bytes.subarray(0, 99) }, 'zip-damaged');
    expect([issue.found, issue.remedy].join()).toMatch(/ends early.*download it again/);
  });

  it('Z02 that is no archive is refused and named for what it looks like', async () => {
    const page = await refused(
      textFile('<!DOCTYPE html><title>404 Not Found</title>', 'a.zip'),
      'file-foreign',
    );
    expect(page.found).toBe('a web page, perhaps an error page from a download');
    await refused({ name: 'a.zip', bytes: Uint8Array.of(1, 2, 0, 4, 5) }, 'file-foreign');
    await refused({ name: 'a.zip', bytes: new Uint8Array(0) }, 'file-empty');
  });

  it('Z03 with a wrong checksum is refused, naming the member', async () => {
    const file = changed((view, at) => view.setUint32(at + 16, 1, true));
    const issue = await refused(file, 'zip-damaged', 'a.zip › a.csv');
    expect(issue.found).toMatch(/^checksum [0-9a-f]{8} where 00000001 is stated$/);
  });

  it.each([-100, -1, 1, 4000])('Z04 with a stated size that lies by %i bytes is refused', async (lie) => {
    const file = changed((view, at) => {
      view.setUint32(at + 24, CSV.length + lie, true);
      view.setUint32(22, CSV.length + lie, true);
    });
    await refused(file, 'zip-damaged', 'a.zip › a.csv');
  });

  it('Z05 that is a bomb is refused before it is unpacked', async () => {
    const file = zip({ 'a.csv': [new Uint8Array(300 * 2 ** 20), { level: 1 }] });
    const before = process.memoryUsage().arrayBuffers;
    const started = performance.now();
    const issue = await refused(file, 'zip-limit', 'a.zip › a.csv');
    expect(issue.found).toMatch(/^314572800 bytes packed into \d+$/);
    expect(performance.now() - started).toBeLessThan(1000);
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(50 * 2 ** 20);
  });

  it('Z05 that is a bomb of archives is refused too', async () => {
    // Ten thousand to one by two steps: each step alone stays under the limit of 200 to 1.
    const part: [Uint8Array, { level: 1 }] = [new Uint8Array(9 * 2 ** 20), { level: 1 }];
    const inner = zipSync(Object.fromEntries(Array.from({ length: 60 }, (_, i) => [`${i}.csv`, part])));
    const { sources, issues } = await readFiles([zip({ 'b.zip': inner })]);
    expect(sources).toEqual([]);
    expect(issues.map(({ code }) => code)).toEqual(['zip-limit']);
  });

  it('Z06 with entries that overlap is refused', async () => {
    const file = changed((view, at) => {
      const second = at + 46 + 5;
      view.setUint32(second + 42, view.getUint32(at + 42, true), true);
    });
    await refused(file, 'zip-damaged', 'a.zip › b.csv');
    // A table of contents whose second entry names the same bytes under the same name.
    const twice = changed((view, at) => {
      const second = at + 46 + 5;
      for (let i = 10; i < 51; i++) view.setUint8(second + i, view.getUint8(at + i));
      view.setUint8(second + 46, 'b'.charCodeAt(0));
    });
    await refused(twice, 'zip-damaged', 'a.zip › b.csv');
  });

  it('Z07 in an archive is opened with a warning; one in that is not', async () => {
    const inner = zipSync({ 'd/north.csv': CSV });
    const once = await readFiles([zip({ 'inner.zip': inner })]);
    expect(once.sources.map(({ file, records }) => [file, records])).toEqual([
      ['a.zip › inner.zip › d/north.csv', 60],
    ]);
    expect(once.issues).toMatchObject([
      { code: 'zip-in-zip', severity: 'warning', where: 'a.zip › inner.zip' },
    ]);
    await refused(zip({ 'b.zip': zipSync({ 'c.zip': inner }) }), 'zip-nested', 'a.zip › b.zip › c.zip');
  });

  it('Z08 with names that lead out of it is read under harmless names, with a warning', async () => {
    const { sources, issues } = await readFiles([
      zip({ '../../evil.csv': CSV, '/etc/b.csv': CSV, 'C:\\d\\c.csv': CSV }),
    ]);
    expect(sources.map(({ file }) => file)).toEqual([
      'a.zip › evil.csv',
      'a.zip › etc/b.csv',
      'a.zip › d/c.csv',
    ]);
    expect(issues).toMatchObject([{ code: 'zip-name', severity: 'warning', where: 'a.zip' }]);
    expect(issues[0].found).toContain(`"../../evil.csv" → 'evil.csv'`);
    const mild = await readFiles([zip({ 'north & <b>.csv': CSV })]);
    expect(mild.sources.map(({ file }) => file)).toEqual(['a.zip › north _ _b_.csv']);
    expect(mild.issues).toMatchObject([{ code: 'zip-name', severity: 'note' }]);
  });

  it('Z09 with the litter of desktop systems is read without a word', async () => {
    const litter = ['__MACOSX/._a.csv', '.DS_Store', 'd/Thumbs.db', 'd/desktop.ini', '._a.csv'];
    const file = zip(Object.fromEntries([['a.csv', CSV], ...litter.map((name) => [name, strToU8('x')])]));
    const { sources, issues } = await readFiles([file]);
    expect([sources.map((source) => source.file), issues]).toEqual([['a.zip › a.csv'], []]);
  });

  it('Z10 with names in capitals, with blanks and beyond ASCII is read', async () => {
    const shape = await readFiles([zip({ 'Süd 2/FIELD ONE.SHP': SHP, 'Süd 2/Field One.dbf': DBF })]);
    expect(shape.sources.map(({ file, columns }) => [file, columns.length])).toEqual([
      ['a.zip › Süd 2/FIELD ONE.SHP', 1],
    ]);
    expect(shape.issues).toEqual([]);
  });

  it('Z10 with a name in code page 437 is read by it', async () => {
    // 0x81 is ü and 0xa4 is ñ in code page 437 (CP437.TXT of the Unicode Consortium).
    const file = zip({ 'S@d a#o.csv': CSV });
    for (let i = 0; i < file.bytes.length; i++) {
      if (file.bytes[i] === 0x40 && file.bytes[i - 1] === 0x53) file.bytes[i] = 0x81;
      if (file.bytes[i] === 0x23 && file.bytes[i - 1] === 0x61 && file.bytes[i + 1] === 0x6f)
        file.bytes[i] = 0xa4;
    }
    const { sources, issues } = await readFiles([file]);
    expect([sources.map((source) => source.file), issues]).toEqual([['a.zip › Süd año.csv'], []]);
  });

  it('Z11 of several shapefiles gives each as a layer to choose from', async () => {
    const { sources, issues } = await readFiles([
      zip({ 'n.shp': SHP, 'n.dbf': DBF, 's.shp': SHP, 's.dbf': DBF }),
    ]);
    expect([sources.map(({ file }) => file), issues]).toEqual([['a.zip › n.shp', 'a.zip › s.shp'], []]);
  });

  it('Z12 that is encrypted or packed in a way not known here is refused by name', async () => {
    const locked = await refused(
      changed((view, at) => view.setUint16(at + 8, 1, true)),
      'zip-encrypted',
      'a.zip › a.csv',
    );
    expect(locked.remedy).toBe('Zip it again without a password');
    const packed = (method: number) => changed((view, at) => view.setUint16(at + 10, method, true));
    expect((await refused(packed(9), 'zip-unsupported', 'a.zip › a.csv')).found).toBe('Deflate64');
    expect((await refused(packed(14), 'zip-unsupported', 'a.zip › a.csv')).found).toBe(
      'compression method 14',
    );
  });
});
