import { inflateSync } from 'fflate';
import type { Issue } from '../../engine/issue.ts';
import type { FileBytes } from '../file-bytes.ts';
import { crc32 } from './crc32.ts';
import { damaged, type ZipEntry, zipDirectory } from './directory.ts';
import { isSystemLitter } from './member-name.ts';

/** True for the first bytes of a zip archive, an empty one included. */
export function isZip(bytes: Uint8Array): boolean {
  const tag = bytes[2] === 3 && bytes[3] === 4;
  const empty = bytes[2] === 5 && bytes[3] === 6;
  return bytes[0] === 0x50 && bytes[1] === 0x4b && (tag || empty);
}

/**
 * The members of a zip, unpacked, sizes and CRC-32 checked. Litter of desktop systems is left out. Names that had to be made harmless are told in
 * `issues`. Throws a Refusal.
 */
export function readZip(file: FileBytes, issues: Issue[] = [], room?: number): FileBytes[] {
  const entries = zipDirectory(file.bytes, file.name, room).filter((entry) => !isSystemLitter(entry.name));
  const members = entries.map((entry) => ({ name: entry.name, bytes: unpack(file, entry) }));
  issues.push(...renamed(file.name, entries));
  return members;
}

function renamed(where: string, entries: readonly ZipEntry[]): Issue[] {
  const names = entries.filter(({ name, written }) => name !== written);
  if (names.length === 0) return [];
  const leadOut = names.some(({ written }) => /^\/|^[A-Za-z]:|(^|\/)\.\.(\/|$)/.test(written));
  const list = names
    .slice(0, 20)
    .map(({ name, written }) => `${JSON.stringify(written.slice(0, 120))} → '${name}'`);
  return [
    {
      code: 'zip-name',
      severity: leadOut ? 'warning' : 'note',
      where,
      found: `${list.join(', ')}${names.length > 20 ? ` and ${names.length - 20} more` : ''}`,
      expected: 'plain names below the folder of the archive',
      effect: 'The files are read under the names given here, and nothing is written to any of them',
      remedy: 'Rename them in the archive if that is not wanted',
    },
  ];
}

function unpack(file: FileBytes, entry: ZipEntry): Uint8Array {
  const where = `${file.name} › ${entry.name}`;
  const packed = file.bytes.subarray(entry.start, entry.end);
  const bytes = entry.method === 0 ? packed : inflate(packed, entry.size, where);
  if (bytes.length !== entry.size) damaged(where, `${bytes.length} bytes where ${entry.size} are stated`);
  const crc = crc32(bytes);
  if (crc !== entry.crc) damaged(where, `checksum ${hex(crc)} where ${hex(entry.crc)} is stated`);
  return bytes;
}

/** Room for one byte more than stated: a longer stream shows itself and can never take more memory than that. */
function inflate(packed: Uint8Array, size: number, where: string): Uint8Array {
  if (packed.length === 0) return packed;
  try {
    return inflateSync(packed, { out: new Uint8Array(size + 1) });
  } catch (error) {
    return damaged(
      where,
      `packed data that cannot be read (${error instanceof Error ? error.message : 'unknown'})`,
    );
  }
}

function hex(crc: number): string {
  return crc.toString(16).padStart(8, '0');
}
