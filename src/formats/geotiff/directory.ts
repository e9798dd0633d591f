import type { FileBytes } from '../file-bytes.ts';
import { refuseTif } from './tif-refusal.ts';

/** One tag of a directory: its values start at byte `at`, all of them inside the file. */
interface Tag {
  readonly type: number;
  readonly count: number;
  readonly at: number;
}

/** One image file directory: tags by number. */
export type Directory = ReadonlyMap<number, Tag>;

export interface TifFile {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly view: DataView;
  readonly littleEndian: boolean;
  /** In the order of the chain. */
  readonly directories: readonly Directory[];
}

/** Bytes a value, by type number; types that are not listed are passed over (TIFF 6.0, section 2; BigTIFF adds 16 to 18). */
const TYPE_BYTES: Readonly<Record<number, number>> = {
  1: 1,
  2: 1,
  3: 2,
  4: 4,
  5: 8,
  6: 1,
  7: 1,
  8: 2,
  9: 4,
  10: 8,
  11: 4,
  12: 8,
  13: 4,
  16: 8,
  17: 8,
  18: 8,
};
/** A raster with an overview and a mask at each level has some twenty. */
const MOST_DIRECTORIES = 256;

export function isTif(bytes: Uint8Array): boolean {
  const [a, b, c, d] = bytes;
  return (
    (a === 0x49 && b === 0x49 && (c === 42 || c === 43) && d === 0) ||
    (a === 0x4d && b === 0x4d && c === 0 && (d === 42 || d === 43))
  );
}

/**
 * Walks the chain of directories of a TIFF or BigTIFF file, each once, every offset and count held against the file before it is used. Refuses
 * `tif-ifd-loop`, `tif-truncated` and `tif-structure`.
 */
export function readDirectories({ name, bytes }: FileBytes): TifFile {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 8) return truncated(name, 'the header', 8, bytes.length);
  const littleEndian = bytes[0] === 0x49;
  const big = view.getUint16(2, littleEndian) === 43;
  const word = (at: number) =>
    big ? Number(view.getBigUint64(at, littleEndian)) : view.getUint32(at, littleEndian);
  if (big && bytes.length < 16) return truncated(name, 'the header', 16, bytes.length);
  if (big && (view.getUint16(4, littleEndian) !== 8 || view.getUint16(6, littleEndian) !== 0)) {
    refuseTif('tif-structure', name, 'a BigTIFF header with offsets of another size', 'offsets of 8 bytes');
  }
  const [countBytes, entryBytes, wordBytes] = big ? [8, 20, 8] : [2, 12, 4];
  const directories: Directory[] = [];
  const visited = new Set<number>();
  for (let at = word(big ? 8 : 4); at !== 0; ) {
    const where = `${name} › directory ${directories.length + 1}`;
    if (visited.has(at)) {
      refuseTif(
        'tif-ifd-loop',
        where,
        `it starts at byte ${at}, where an earlier one does`,
        'a chain that ends',
      );
    }
    if (directories.length === MOST_DIRECTORIES) {
      refuseTif(
        'tif-structure',
        where,
        `more than ${MOST_DIRECTORIES} images`,
        `at most ${MOST_DIRECTORIES}`,
        'Export one raster a file',
      );
    }
    visited.add(at);
    if (at + countBytes > bytes.length) return truncated(where, 'its start', at + countBytes, bytes.length);
    const entries = big ? word(at) : view.getUint16(at, littleEndian);
    const first = at + countBytes;
    const end = first + entries * entryBytes + wordBytes;
    if (end > bytes.length) return truncated(where, `${entries} tags`, end, bytes.length);
    const tags = new Map<number, Tag>();
    for (let entry = first; entry < end - wordBytes; entry += entryBytes) {
      const number = view.getUint16(entry, littleEndian);
      const type = view.getUint16(entry + 2, littleEndian);
      const count = word(entry + 4);
      if (!Object.hasOwn(TYPE_BYTES, type) || tags.has(number)) continue;
      const size = TYPE_BYTES[type] * count;
      const value = entry + 4 + wordBytes;
      const start = size <= wordBytes ? value : word(value);
      if (start + size > bytes.length) return truncated(where, `tag ${number}`, start + size, bytes.length);
      tags.set(number, { type, count, at: start });
    }
    directories.push(tags);
    at = word(end - wordBytes);
  }
  if (directories.length === 0) refuseTif('tif-structure', name, 'no image in it', 'at least one image');
  return { name, bytes, view, littleEndian, directories };
}

function truncated(where: string, what: string, needed: number, found: number): never {
  return refuseTif(
    'tif-truncated',
    where,
    `${what} reaching to byte ${needed}, but the file ends at ${found}`,
    'a whole file',
    'Copy or export the raster again',
  );
}

/** The values of a tag as numbers; null when the directory has no such tag, or holds text or fractions in it. */
export function numbersOf(
  { view, littleEndian }: TifFile,
  directory: Directory,
  number: number,
): Float64Array | null {
  const tag = directory.get(number);
  if (!tag) return null;
  const read = numberReader(view, littleEndian, tag.type);
  if (!read) return null;
  const size = TYPE_BYTES[tag.type];
  return Float64Array.from({ length: tag.count }, (_, i) => read(tag.at + i * size));
}

/** The first value of a tag, or what stands for it where there is none. */
export function numberOf(tif: TifFile, directory: Directory, number: number, otherwise: number): number {
  const tag = directory.get(number);
  const read = tag && tag.count > 0 && numberReader(tif.view, tif.littleEndian, tag.type);
  return read ? read(tag.at) : otherwise;
}

/** The text of a tag up to its closing zero, null when there is none. Bytes that are no UTF-8 become replacement marks. */
export function textOf({ bytes }: TifFile, directory: Directory, number: number): string | null {
  const tag = directory.get(number);
  if (!tag || TYPE_BYTES[tag.type] !== 1) return null;
  const text = new TextDecoder().decode(bytes.subarray(tag.at, tag.at + tag.count));
  const end = text.indexOf('\0');
  return end < 0 ? text : text.slice(0, end);
}

function numberReader(view: DataView, little: boolean, type: number): ((at: number) => number) | null {
  switch (type) {
    case 1:
    case 7:
      return (at) => view.getUint8(at);
    case 6:
      return (at) => view.getInt8(at);
    case 3:
      return (at) => view.getUint16(at, little);
    case 8:
      return (at) => view.getInt16(at, little);
    case 4:
    case 13:
      return (at) => view.getUint32(at, little);
    case 9:
      return (at) => view.getInt32(at, little);
    case 11:
      return (at) => view.getFloat32(at, little);
    case 12:
      return (at) => view.getFloat64(at, little);
    case 16:
    case 18:
      return (at) => Number(view.getBigUint64(at, little));
    case 17:
      return (at) => Number(view.getBigInt64(at, little));
    default:
      return null;
  }
}
