import { zipSync } from 'fflate';
import type { FileBytes } from '../file-bytes.ts';

/** The same instant in every archive (local fields, so the same bytes in every time zone); zip knows none before 1980. */
const FIXED_TIME = new Date(1980, 0, 1, 0, 0, 0);

/** A zip of the files in the order given; the same files give the same bytes, always. */
export function writeZip(name: string, files: readonly FileBytes[]): FileBytes {
  const members = Object.fromEntries(files.map((file) => [file.name, file.bytes]));
  return { name, bytes: zipSync(members, { mtime: FIXED_TIME, level: 6 }) };
}
