import { basename, relative, resolve, sep } from 'node:path';
import type { FileBytes } from '../formats/file-bytes.ts';
import { parted } from '../jobs/find-files.ts';
import { isPlan, type Roles, type SortedFile } from '../jobs/sort-files.ts';
import { loadAll, loadFile } from './disk.ts';
import { table } from './tell.ts';

/** Files that are said to be this or that. */
export interface SaidFiles {
  readonly boundary?: string;
  readonly soils?: string;
  readonly soilTable?: readonly string[];
  readonly yield?: readonly string[];
  readonly layer?: readonly string[];
  readonly lineup?: string;
}

/** Files of a plan to be, named by their way from the folder of the plan. */
export interface GivenFiles {
  readonly files: readonly FileBytes[];
  /** Those nothing was said of. */
  readonly loose: readonly FileBytes[];
  /** What was said, by those names. */
  readonly said: Roles;
}

export const NO_ROLES: Roles = {
  boundary: null,
  records: null,
  soils: null,
  soilTables: [],
  yields: [],
  layers: [],
  lineup: null,
};

/** Load files and folders as given. A layer of a file is `file › layer`. */
export function givenFiles(paths: readonly string[], said: SaidFiles, home: string): GivenFiles {
  const loaded = new Map<string, FileBytes>();
  const nameOf = (path: string) => relative(home, resolve(path)).split(sep).join('/');
  const take = (path: string): string => {
    const { path: whole, layer } = parted(path);
    const name = nameOf(whole);
    for (const file of loadFile(whole, name)) loaded.set(file.name, file);
    return layer === null ? name : `${name} › ${layer}`;
  };
  const each = (all: readonly string[] | undefined) => (all ?? []).map(take);
  const maybe = (path: string | undefined) => (path === undefined ? null : take(path));
  const roles: Roles = {
    boundary: maybe(said.boundary),
    records: null,
    soils: maybe(said.soils),
    soilTables: each(said.soilTable),
    yields: each(said.yield),
    layers: each(said.layer),
    lineup: maybe(said.lineup),
  };
  const taken = new Set(loaded.keys());
  const loose = loadAll(paths, nameOf).filter((file) => !taken.has(file.name) && !isPlan(file));
  return { files: [...loaded.values(), ...loose], loose, said: roles };
}

/** What was found, under what was said. */
export function rolesOf(found: Roles, { said }: GivenFiles): Roles {
  return {
    boundary: said.boundary ?? found.boundary,
    records: said.boundary === null ? found.records : null,
    soils: said.soils ?? found.soils,
    soilTables: [...said.soilTables, ...found.soilTables],
    yields: [...said.yields, ...found.yields],
    layers: [...said.layers, ...found.layers],
    lineup: said.lineup ?? found.lineup,
  };
}

/** Words about files, `FILE=word` or for all the others a bare `word`, by name; what names another of the files `given` is for none of them. */
export function byFile(
  said: readonly string[],
  names: readonly string[],
  given: readonly string[],
): Record<string, string> {
  const found: Record<string, string> = {};
  let forAll: string | undefined;
  for (const text of said) {
    const meant = fileAndWord(names, text);
    if (meant) for (const name of meant.files) found[name] = meant.word;
    else if (!namesGiven(given, text)) forAll = text;
  }
  if (forAll === undefined) return found;
  return { ...Object.fromEntries(names.map((name) => [name, forAll])), ...found };
}

/** `FILE=word` as the files meant and the word; null where no file stands before a `=`. Both may hold a `=` of their own. */
export function fileAndWord(
  names: readonly string[],
  text: string,
): { files: string[]; word: string } | null {
  for (let cut = text.indexOf('='); cut > 0; cut = text.indexOf('=', cut + 1)) {
    const files = namedBy(names, text.slice(0, cut));
    if (files.length > 0) return { files, word: text.slice(cut + 1) };
  }
  return null;
}

/** Whether a text is about one of the files given, or a layer of one. */
export function namesGiven(given: readonly string[], text: string): boolean {
  return fileAndWord(given, text.replace(/ › [^=]*/, '')) !== null;
}

/** The names meant by a path as it was given, else by the file's name alone: of two files of one name in two folders, the one whose way is written. */
export function namedBy(names: readonly string[], path: string): string[] {
  const whole = path.replace(/^(\.\/)+/, '');
  const exact = names.filter((name) => {
    const file = parted(name).path;
    return name === whole || file === whole || file.endsWith(`/${whole}`);
  });
  return exact.length > 0 ? exact : names.filter((name) => basename(parted(name).path) === basename(whole));
}

/** What every file was taken for, one a line. */
export function filesText(files: readonly SortedFile[]): string {
  if (files.length === 0) return 'No file could be read.';
  return table(
    files.map(({ file, role, because, why }) => [file, role, why === '' ? because : `${because}; ${why}`]),
    3,
  );
}
