import { inflateSync } from 'fflate';
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

/** The members of a zip, unpacked, sizes and CRC-32 checked. Litter of desktop systems is left out. Throws a Refusal. */
export function readZip(file: FileBytes): FileBytes[] {
  return zipDirectory(file.bytes, file.name)
    .filter((entry) => !isSystemLitter(entry.name))
    .map((entry) => ({ name: entry.name, bytes: unpack(file, entry) }));
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
