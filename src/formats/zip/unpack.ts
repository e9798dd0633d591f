import { Inflate } from 'fflate';
import type { Breathe } from '../breathe.ts';
import { crc32 } from './crc32.ts';
import { damaged, type ZipEntry } from './directory.ts';

/** Packed bytes taken at a time: a few milliseconds of work, at the most that deflate can blow them up (1,032 to 1) some tens. */
const SLICE = 2 ** 15;
/** Stored bytes summed at a time. */
const STORED_SLICE = 2 ** 22;

/** The bytes of one entry of an archive, size and CRC-32 checked, with a breath between slices. Refuses with `zip-damaged`. */
export async function unpack(
  archive: Uint8Array,
  entry: ZipEntry,
  where: string,
  breathe: Breathe,
): Promise<Uint8Array> {
  const packed = archive.subarray(entry.start, entry.end);
  const doing = (done: number) =>
    `Unpacking ${where}: ${Math.round(done / 1e6)} of ${Math.round(entry.size / 1e6)} MB`;
  const { bytes, size, crc } =
    entry.method === 0
      ? await summed(packed, (done) => breathe(doing(done)))
      : await inflated(packed, entry.size, where, (done) => breathe(doing(done)));
  if (size !== entry.size) damaged(where, `${size} bytes where ${entry.size} are stated`);
  if (crc !== entry.crc) damaged(where, `checksum ${hex(crc)} where ${hex(entry.crc)} is stated`);
  return bytes;
}

interface Unpacked {
  readonly bytes: Uint8Array;
  /** More than `bytes` hold where there was more than stated. */
  readonly size: number;
  readonly crc: number;
}

async function summed(bytes: Uint8Array, breathe: (done: number) => Promise<void>): Promise<Unpacked> {
  let crc = 0;
  for (let at = 0; at < bytes.length; at += STORED_SLICE) {
    crc = crc32(bytes.subarray(at, at + STORED_SLICE), crc);
    await breathe(at);
  }
  return { bytes, size: bytes.length, crc };
}

/** Room for what is stated: a longer stream shows itself and is not read to its end. */
async function inflated(
  packed: Uint8Array,
  stated: number,
  where: string,
  breathe: (done: number) => Promise<void>,
): Promise<Unpacked> {
  const bytes = new Uint8Array(stated);
  let size = 0;
  let crc = 0;
  const inflate = new Inflate((chunk) => {
    if (size + chunk.length <= stated) bytes.set(chunk, size);
    size += chunk.length;
    crc = crc32(chunk, crc);
  });
  for (let at = 0; at < packed.length && size <= stated; at += SLICE) {
    try {
      inflate.push(packed.subarray(at, at + SLICE), at + SLICE >= packed.length);
    } catch (error) {
      damaged(
        where,
        `packed data that cannot be read (${error instanceof Error ? error.message : 'unknown'})`,
      );
    }
    await breathe(size);
  }
  return { bytes, size, crc };
}

function hex(crc: number): string {
  return crc.toString(16).padStart(8, '0');
}
