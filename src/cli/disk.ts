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
import { basename, dirname, join, resolve, sep } from 'node:path';
import { Refusal } from '../engine/issue.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import { belongsToTaskFile, isTaskFile } from '../formats/iso11783/members.ts';

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
  if (isTaskFile(name)) return [...files, ...besideTaskFile(whole, name)];
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

/** The grids and other files a task file names lie in its folder. */
function besideTaskFile(whole: string, name: string): FileBytes[] {
  const folder = name.slice(0, name.length - basename(whole).length);
  return readdirSync(dirname(whole), { withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name !== basename(whole) && belongsToTaskFile(entry.name))
    .map(({ name: sibling }) => sibling)
    .sort()
    .map((sibling) => ({ name: folder + sibling, bytes: bytesOf(join(dirname(whole), sibling)) }));
}

/** Folders deeper than this, and files beyond so many, are nobody's hand-over of a field. */
const DEEPEST = 8;
const MOST_FILES = 2000;

/** Files, and all files below folders, in order of name; hidden ones are passed over. A .shp brings its sidecars. */
export function loadAll(paths: readonly string[], nameOf: (path: string) => string): FileBytes[] {
  const found = new Map<string, FileBytes>();
  const add = (path: string) => {
    for (const file of loadFile(path, nameOf(path))) found.set(file.name, file);
    if (found.size > MOST_FILES)
      throw refusal(
        'folder-too-full',
        path,
        `more than ${MOST_FILES} files`,
        'the files of one field',
        'Name the files',
      );
  };
  const walk = (folder: string, depth: number) => {
    for (const entry of readdirSync(folder, { withFileTypes: true }).sort((a, b) =>
      a.name < b.name ? -1 : 1,
    )) {
      if (entry.name.startsWith('.')) continue;
      const path = join(folder, entry.name);
      if (entry.isFile()) add(path);
      else if (entry.isDirectory() && depth < DEEPEST) walk(path, depth + 1);
    }
  };
  for (const path of paths) {
    if (statOf(resolve(path))?.isDirectory()) walk(path, 1);
    else add(path);
  }
  return [...found.values()];
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
  try {
    makeFolders(dirname(whole));
    writeFileSync(part, bytes, { flag: 'wx' });
    renameSync(part, whole);
  } catch (thrown) {
    throw notWritable(path, thrown);
  } finally {
    sweep(part);
  }
}

/** What the system refuses to write, in our words. */
export function notWritable(path: string, thrown: unknown): Refusal {
  return refusal(
    'not-writable',
    path,
    thrown instanceof Error ? thrown.message : String(thrown),
    'a place that can be written',
    'Check the place, its permissions and its free space',
  );
}

/** Remove what was laid aside. Looked for first: through a file that is no folder, even a forced removal fails. */
export function sweep(path: string): void {
  if (existsSync(path)) rmSync(path, { recursive: true, force: true });
}

/** A folder and those above it; answers those that were not there, outermost first. One at a time: Node's own recursive way never ends where a file system refuses every folder, as /proc does. */
export function makeFolders(path: string): string[] {
  if (existsSync(path)) return [];
  const above = makeFolders(dirname(path));
  mkdirSync(path);
  return [...above, path];
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
export function inside(root: string, name: string): string {
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

export function bytesOf(path: string): Uint8Array {
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
export function statOf(path: string) {
  try {
    return statSync(path, { throwIfNoEntry: false });
  } catch {
    return undefined;
  }
}

export function refusal(
  code: string,
  where: string,
  found: string,
  expected: string,
  remedy: string,
): Refusal {
  return new Refusal({ code, where, found, expected, effect: 'Nothing is written', remedy });
}
