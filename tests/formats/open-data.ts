import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { FileBytes } from '../../src/formats/file-bytes.ts';

/** Other people's data, outside the project: `../shared/data` or EACHACRE_DATA. */
const ROOT = process.env.EACHACRE_DATA ?? join(import.meta.dirname, '../../../shared/data');

export function missing(path: string): boolean {
  return !existsSync(join(ROOT, path));
}

export function openData(path: string): FileBytes {
  return {
    name: path.slice(path.lastIndexOf('/') + 1),
    bytes: new Uint8Array(readFileSync(join(ROOT, path))),
  };
}

export function openFolder(path: string): FileBytes[] {
  return readdirSync(join(ROOT, path))
    .filter((name) => statSync(join(ROOT, path, name)).isFile())
    .map((name) => openData(`${path}/${name}`));
}
