import { readdirSync } from 'node:fs';
import { join, relative, resolve, sep } from 'node:path';
import type { FileBytes } from '../formats/file-bytes.ts';
import { listedNames, MANIFEST, PLANTER } from '../jobs/hand-off-document.ts';
import { bytesOf, inside, refusal, statOf } from './disk.ts';

/** A hand-off that is there: the manifest and the files it lists, and the names of what else lies in the planter's folder. Nothing else is read. */
export function loadHandOff(path: string): { files: FileBytes[]; strays: string[] } {
  const root = resolve(path);
  if (!statOf(root)?.isDirectory())
    throw refusal('folder-missing', path, 'no such folder', 'the folder of a hand-off', 'Check the path');
  const listed = listedIn(root);
  const below = listed.filter((name) => join(root, name).startsWith(root + sep));
  const there = below.filter((name) => statOf(join(root, name))?.isFile());
  return {
    files: there.map((name) => ({ name, bytes: bytesOf(join(root, name)) })),
    strays: straysIn(root, listed),
  };
}

/** Files an older hand-off in this folder listed, to be replaced with it. Refuses strays where the planter reads, for they would pass for part of the new one. */
export function staleFiles(path: string): string[] {
  const root = resolve(path);
  const listed = listedIn(root).filter((name) => statOf(inside(root, name))?.isFile());
  const strays = straysIn(root, listed);
  if (strays.length > 0)
    throw refusal(
      'file-in-the-way',
      join(path, PLANTER),
      `${strays.join(', ')}, which no hand-off listed`,
      'nothing there but what a hand-off listed',
      'Move what is there, or choose another folder',
    );
  return listed;
}

/** The manifest, and the names it lists. */
function listedIn(root: string): string[] {
  const manifest = join(root, MANIFEST);
  if (!statOf(manifest)?.isFile()) return [];
  return [...new Set([MANIFEST, ...listedNames(bytesOf(manifest))])];
}

function straysIn(root: string, listed: readonly string[]): string[] {
  const planter = join(root, PLANTER);
  if (!statOf(planter)?.isDirectory()) return [];
  return readdirSync(planter, { recursive: true, withFileTypes: true })
    .filter((entry) => !entry.isDirectory())
    .map((entry) => relative(root, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .filter((name) => !listed.includes(name))
    .sort();
}
