import type { FileBytes } from '../formats/file-bytes.ts';
import { baseName, belongsToTaskFile, folderOf, isTaskFile } from '../formats/iso11783/members.ts';

/** Sidecars that belong to a loose shapefile. */
const MEMBERS = ['shp', 'shx', 'dbf', 'prj', 'cpg'];

/**
 * The open files a plan means by `named`: the file at that path, or the only one whose path ends so, else the only one of that name in any folder, whatever its case; for a .shp its sidecars come along,
 * for a task file the grids and other files of its folder.
 * `layer` is what follows ` › ` in a name, one layer of an archive.
 */
export function findFiles(
  files: readonly FileBytes[],
  named: string,
): { files: FileBytes[]; layer: string | null } {
  const { path, layer } = parted(named);
  const exact = files.filter((file) => file.name === path);
  const called = baseName(path).toLowerCase();
  const alike = files.filter((file) => baseName(file.name).toLowerCase() === called);
  const ending = alike.filter((file) => file.name.endsWith(`/${path}`));
  const main = exact[0] ?? only(ending) ?? only(alike);
  if (!main) return { files: [], layer };
  if (isTaskFile(main.name)) {
    const beside = files.filter(
      (file) => file !== main && belongsToTaskFile(file.name) && folderOf(file.name) === folderOf(main.name),
    );
    return { files: [main, ...beside], layer };
  }
  if (!/\.shp$/i.test(main.name)) return { files: [main], layer };
  const stem = main.name.slice(0, -4).toLowerCase();
  const sidecars = files.filter((file) => {
    const dot = file.name.lastIndexOf('.');
    return (
      file !== main &&
      file.name.slice(0, dot).toLowerCase() === stem &&
      MEMBERS.includes(file.name.slice(dot + 1).toLowerCase())
    );
  });
  return { files: [main, ...sidecars], layer };
}

function only<T>(files: readonly T[]): T | undefined {
  return files.length === 1 ? files[0] : undefined;
}

/** A name as its file and what follows it: `a.zip › north.shp` is a layer of `a.zip`. */
export function parted(named: string): { path: string; layer: string | null } {
  const cut = named.indexOf(' › ');
  return cut < 0 ? { path: named, layer: null } : { path: named.slice(0, cut), layer: named.slice(cut + 3) };
}
