import { existsSync, renameSync, rmdirSync, writeFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import type { FileBytes } from '../formats/file-bytes.ts';
import { inside, makeFolders, notWritable, refusal, statOf, sweep } from './disk.ts';

/**
 * Write the files of a hand-off into a folder, whole or not at all. They are laid beside it first; then what an older hand-off listed (`stale`) is moved
 * aside and they are moved in. Whatever fails, all is put back as it was. Any other file in the way is refused, for it is not ours to replace.
 */
export function saveFolder(path: string, files: readonly FileBytes[], stale: readonly string[]): void {
  const root = resolve(path);
  const part = `${root}.part-${process.pid}`;
  const aside = `${root}.old-${process.pid}`;
  const old = stale.filter((name) => existsSync(inside(root, name)));
  for (const { name } of files) refuseInTheWay(inside(root, name), name, old);

  /** What was done, to be undone from the last to the first. */
  const undo: (() => void)[] = [];
  const move = (from: string, to: string) => {
    for (const folder of makeFolders(dirname(to))) undo.push(() => rmdirSync(folder));
    renameSync(from, to);
    undo.push(() => renameSync(to, from));
  };
  try {
    for (const file of files) {
      makeFolders(dirname(inside(part, file.name)));
      writeFileSync(inside(part, file.name), file.bytes, { flag: 'wx' });
    }
    for (const name of old) move(inside(root, name), inside(aside, name));
    for (const { name } of files) move(inside(part, name), inside(root, name));
  } catch (thrown) {
    try {
      for (const step of undo.toReversed()) step();
    } catch (stuck) {
      throw notWritable(`${path}, what was there is in ${aside}`, stuck);
    }
    throw notWritable(path, thrown);
  } finally {
    sweep(part);
  }
  sweep(aside);
}

function refuseInTheWay(target: string, name: string, old: readonly string[]): void {
  const stats = statOf(target);
  if (!stats || (stats.isFile() && old.includes(name))) return;
  throw refusal(
    'file-in-the-way',
    name,
    stats.isFile() ? 'a file of that name that no hand-off listed' : 'a folder of that name',
    'a free name',
    'Move what is there, or choose another folder',
  );
}
