import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, join, relative, resolve, sep } from 'node:path';
import { Refusal } from '../engine/issue.ts';
import type { FileBytes } from '../formats/file-bytes.ts';

const SIDECARS = ['.shp', '.shx', '.dbf', '.prj', '.cpg'];
/** Larger files are refused before they are read, bytes. */
const LARGEST = 2 ** 31 - 1;

/** A file, and for a .shp its sidecars whatever the case of their endings. The first is the file asked for. Refuses what is not there. */
export function loadFile(path: string, name = basename(path)): FileBytes[] {
  const whole = resolve(path);
  const stats = statOf(whole);
  if (!stats?.isFile()) {
    throw refusal(
      'file-missing',
      path,
      stats ? 'a folder' : 'no such file',
      'a file that can be read',
      'Check the path',
    );
  }
  if (stats.size > LARGEST)
    throw refusal(
      'file-too-large',
      path,
      `${stats.size} bytes`,
      `at most ${LARGEST}`,
      'Cut the file to the field',
    );
  const files = [{ name, bytes: bytesOf(whole) }];
  if (!/\.shp$/i.test(whole)) return files;
  const stem = basename(whole).slice(0, -4);
  for (const sibling of readdirSync(dirname(whole)).sort()) {
    const ending = sibling.slice(stem.length).toLowerCase();
    if (
      sibling === basename(whole) ||
      sibling.slice(0, stem.length).toLowerCase() !== stem.toLowerCase() ||
      !SIDECARS.includes(ending)
    )
      continue;
    files.push({
      name: name.slice(0, -4) + sibling.slice(stem.length),
      bytes: bytesOf(join(dirname(whole), sibling)),
    });
  }
  return files;
}

/** Every file under a folder, named by its path inside it with forward slashes. */
export function loadFolder(path: string): FileBytes[] {
  const root = resolve(path);
  if (!statOf(root)?.isDirectory())
    throw refusal('folder-missing', path, 'no such folder', 'the folder of a hand-off', 'Check the path');
  return readdirSync(root, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort()
    .map((file) => ({ name: relative(root, file).split(sep).join('/'), bytes: bytesOf(file) }));
}

/** Write a file whole or not at all (a neighbour is written first, then renamed). Refuses to replace one unless `force`. */
export function saveFile(path: string, bytes: Uint8Array, force: boolean): void {
  const whole = resolve(path);
  const stats = statOf(whole);
  if (stats && (!force || !stats.isFile()))
    throw refusal(
      'file-exists',
      path,
      stats.isFile() ? 'a file of that name' : 'a folder of that name',
      'a free name',
      stats.isFile() ? 'Choose another name, or replace it with --force' : 'Choose another name',
    );
  const part = `${whole}.part-${process.pid}`;
  writing(path, part, () => {
    makeFolders(dirname(whole));
    writeFileSync(part, bytes, { flag: 'wx' });
    renameSync(part, whole);
  });
}

/**
 * Write the files of a hand-off into a folder, whole or not at all: they are laid beside it and moved in last. What an older hand-off listed (`stale`)
 * goes first; any other file in the way is refused, for it is not ours to replace.
 */
export function saveFolder(path: string, files: readonly FileBytes[], stale: readonly string[]): void {
  const root = resolve(path);
  const part = `${root}.part-${process.pid}`;
  const old = stale.map((name) => inside(root, name));
  for (const { name } of files) {
    const target = inside(root, name);
    if (existsSync(target) && !old.includes(target))
      throw refusal(
        'file-in-the-way',
        name,
        'a file of that name that no hand-off listed',
        'a free name',
        'Move that file, or choose another folder',
      );
  }
  writing(path, part, () => {
    for (const file of files) {
      const aside = inside(part, file.name);
      makeFolders(dirname(aside));
      writeFileSync(aside, file.bytes, { flag: 'wx' });
    }
    for (const file of files) makeFolders(dirname(inside(root, file.name)));
    for (const target of old) rmSync(target, { force: true });
    for (const file of files) renameSync(inside(part, file.name), inside(root, file.name));
  });
}

/** Do what writes; what the system refuses is told in our words, and what was laid aside is cleared away. */
function writing(path: string, part: string, work: () => void): void {
  try {
    work();
  } catch (thrown) {
    throw refusal(
      'not-writable',
      path,
      thrown instanceof Error ? thrown.message : String(thrown),
      'a place that can be written',
      'Check the place, its permissions and its free space',
    );
  } finally {
    if (existsSync(part)) rmSync(part, { recursive: true, force: true });
  }
}

/** A folder and those above it. One at a time: Node's own recursive way never ends where a file system refuses every folder, as /proc does. */
function makeFolders(path: string): void {
  if (existsSync(path)) return;
  makeFolders(dirname(path));
  mkdirSync(path);
}

/** Refuse a folder that holds something, unless `force`; asked before any work is done. */
export function refuseTaken(path: string, force: boolean): void {
  const stats = statOf(resolve(path));
  if (!stats) return;
  if (!stats.isDirectory())
    throw refusal('folder-is-file', path, 'a file of that name', 'a folder', 'Choose another folder');
  if (!force && readdirSync(resolve(path)).length > 0)
    throw refusal(
      'folder-not-empty',
      path,
      'a folder with files in it',
      'an empty or new folder',
      'Choose another folder, or replace a hand-off in it with --force',
    );
}

/** A path below a root; a name that leads out of it is refused. */
function inside(root: string, name: string): string {
  const target = resolve(root, name);
  if (!target.startsWith(root + sep))
    throw refusal(
      'name-leads-out',
      name,
      'a name that leads out of the folder',
      'a plain name',
      'Report this',
    );
  return target;
}

function bytesOf(path: string): Uint8Array {
  try {
    const { buffer, byteOffset, byteLength } = readFileSync(path);
    return new Uint8Array(buffer, byteOffset, byteLength);
  } catch (thrown) {
    throw refusal(
      'file-unreadable',
      path,
      thrown instanceof Error ? thrown.message : String(thrown),
      'a file that can be read',
      'Check its permissions',
    );
  }
}

/** What is there, if anything; a path through a file or a closed folder leads nowhere. */
function statOf(path: string) {
  try {
    return statSync(path, { throwIfNoEntry: false });
  } catch {
    return undefined;
  }
}

function refusal(code: string, where: string, found: string, expected: string, remedy: string): Refusal {
  return new Refusal({ code, where, found, expected, effect: 'Nothing is written', remedy });
}
