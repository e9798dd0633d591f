import type { FileBytes } from '../formats/file-bytes.ts';

/** Sidecars that belong to a loose shapefile. */
const MEMBERS = ['shp', 'shx', 'dbf', 'prj', 'cpg'];

/**
 * The open files a plan means by `named`: the file at that path, else the only one of that name in any folder; for a .shp its sidecars come along.
 * `layer` is what follows ` › ` in a name, one layer of an archive.
 */
export function findFiles(
  files: readonly FileBytes[],
  named: string,
): { files: FileBytes[]; layer: string | null } {
  const { path, layer } = parted(named);
  const exact = files.filter((file) => file.name === path);
  const alike = files.filter((file) => baseName(file.name) === baseName(path));
  const main = exact[0] ?? (alike.length === 1 ? alike[0] : undefined);
  if (!main) return { files: [], layer };
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

/** A name as its file and what follows it: `a.zip › north.shp` is a layer of `a.zip`. */
export function parted(named: string): { path: string; layer: string | null } {
  const cut = named.indexOf(' › ');
  return cut < 0 ? { path: named, layer: null } : { path: named.slice(0, cut), layer: named.slice(cut + 3) };
}

export function baseName(path: string): string {
  return path.slice(Math.max(path.lastIndexOf('/'), path.lastIndexOf('\\')) + 1);
}
