import { Refusal } from '../../engine/issue.ts';
import { memberName, writtenName } from './member-name.ts';

export interface ZipEntry {
  /** Made harmless. */
  readonly name: string;
  /** As the archive has it, forward slashes for any. */
  readonly written: string;
  readonly method: number;
  readonly crc: number;
  readonly packed: number;
  readonly size: number;
  /** Byte range of the packed data, checked to lie inside the archive and to overlap no other entry. */
  readonly start: number;
  readonly end: number;
}

const LIMITS = { entries: 2000, ratio: 200, ratioFrom: 10 * 2 ** 20 };
/** All that may come out of one archive, of archives inside it too. */
export const MOST_UNPACKED = 512 * 2 ** 20;

function refuseZip(code: string, where: string, found: string, expected: string, remedy: string): never {
  throw new Refusal({ code, where, found, expected, effect: 'Nothing was read from the archive', remedy });
}

/**
 * The entries of a zip archive by its central directory (APPNOTE.TXT 4.3), folders left out.
 * Throws a Refusal for anything short, encrypted, split, oversized (over `room` bytes unpacked), overlapping or contradicting itself.
 */
export function zipDirectory(bytes: Uint8Array, where: string, room = MOST_UNPACKED): ZipEntry[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const tail = endRecord(view, where);
  const count = view.getUint16(tail + 10, true);
  const size = view.getUint32(tail + 12, true);
  const from = view.getUint32(tail + 16, true);
  if (count === 0xffff || size === 0xffffffff || from === 0xffffffff) {
    refuseZip(
      'zip-unsupported',
      where,
      'a Zip64 archive',
      'a plain zip',
      'Zip fewer or smaller files at a time',
    );
  }
  if (view.getUint16(tail + 4, true) !== 0 || view.getUint16(tail + 8, true) !== count) {
    refuseZip(
      'zip-unsupported',
      where,
      'an archive split over several files',
      'one zip',
      'Zip it again in one piece',
    );
  }
  if (count > LIMITS.entries) {
    refuseZip(
      'zip-limit',
      where,
      `${count} entries`,
      `at most ${LIMITS.entries}`,
      'Zip only the files needed',
    );
  }
  if (from + size > tail) damaged(where, 'its table of contents lies outside the file');
  const entries: ZipEntry[] = [];
  let at = from;
  for (let index = 0; index < count; index++) {
    if (at + 46 > from + size || view.getUint32(at, true) !== 0x02014b50) {
      damaged(where, `entry ${index + 1} of ${count} is missing from its table of contents`);
    }
    const nameLength = view.getUint16(at + 28, true);
    const next = at + 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
    if (next > from + size) damaged(where, `entry ${index + 1} runs past its table of contents`);
    const raw = bytes.subarray(at + 46, at + 46 + nameLength);
    const folder = raw[nameLength - 1] === 47 || raw[nameLength - 1] === 92;
    if (!folder) entries.push(readEntry(bytes, view, at, raw, from, where));
    at = next;
  }
  checkTotals(entries, where, room);
  return entries;
}

function endRecord(view: DataView, where: string): number {
  const lowest = Math.max(0, view.byteLength - 22 - 0xffff);
  for (let at = view.byteLength - 22; at >= lowest; at--) {
    if (view.getUint32(at, true) === 0x06054b50 && at + 22 + view.getUint16(at + 20, true) <= view.byteLength)
      return at;
  }
  return damaged(where, `the archive ends early: no end record in its ${view.byteLength} bytes`);
}

function readEntry(
  bytes: Uint8Array,
  view: DataView,
  at: number,
  raw: Uint8Array,
  directory: number,
  where: string,
): ZipEntry {
  const name = memberName(raw);
  const member = `${where} › ${name}`;
  const flags = view.getUint16(at + 8, true);
  const method = view.getUint16(at + 10, true);
  const crc = view.getUint32(at + 16, true);
  const packed = view.getUint32(at + 20, true);
  const size = view.getUint32(at + 24, true);
  const local = view.getUint32(at + 42, true);
  if (name === '') damaged(where, 'an entry without a name');
  if (flags & 1)
    refuseZip('zip-encrypted', member, 'encrypted', 'no password', 'Zip it again without a password');
  if (method !== 0 && method !== 8) {
    const kind = method === 9 ? 'Deflate64' : `compression method ${method}`;
    refuseZip('zip-unsupported', member, kind, 'Deflate or stored', 'Zip it again with the standard method');
  }
  if (((view.getUint32(at + 38, true) >>> 28) & 15) === 10) {
    refuseZip('zip-link', member, 'a link to another file', 'the file itself', 'Zip the file, not the link');
  }
  if (packed === 0xffffffff || size === 0xffffffff || local === 0xffffffff) {
    refuseZip('zip-unsupported', member, 'a Zip64 entry', 'a plain zip', 'Zip smaller files');
  }
  if (local + 30 > directory || view.getUint32(local, true) !== 0x04034b50) {
    damaged(member, `no file header at byte ${local}`);
  }
  const nameLength = view.getUint16(local + 26, true);
  const start = local + 30 + nameLength + view.getUint16(local + 28, true);
  const end = start + packed;
  if (end > directory) damaged(member, `its data should end at byte ${end}, past the table of contents`);
  const streamed = (view.getUint16(local + 6, true) & 8) !== 0;
  const agrees =
    nameLength === raw.length &&
    raw.every((byte, i) => bytes[local + 30 + i] === byte) &&
    view.getUint16(local + 8, true) === method &&
    (streamed || (view.getUint32(local + 18, true) === packed && view.getUint32(local + 22, true) === size));
  if (!agrees) damaged(member, 'its own header contradicts the table of contents');
  const written = writtenName(raw).replaceAll('\\', '/');
  return { name, written, method, crc, packed, size, start, end };
}

function checkTotals(entries: readonly ZipEntry[], where: string, room: number): void {
  let total = 0;
  const names = new Set<string>();
  for (const { name, packed, size } of entries) {
    total += size;
    const key = name.toLowerCase();
    if (names.has(key)) {
      refuseZip(
        'zip-duplicate',
        where,
        `two entries named ${name}`,
        'one of each',
        'Zip it again from one folder',
      );
    }
    names.add(key);
    if (size > LIMITS.ratioFrom && size > packed * LIMITS.ratio) {
      const found = `${size} bytes packed into ${packed}`;
      refuseZip(
        'zip-limit',
        `${where} › ${name}`,
        found,
        `at most ${LIMITS.ratio} to 1`,
        'Hand over the file unzipped',
      );
    }
  }
  if (total > room) {
    refuseZip(
      'zip-limit',
      where,
      `${total} bytes when unpacked`,
      `at most ${room}`,
      'Hand over the files unzipped',
    );
  }
  const ordered = [...entries].sort((a, b) => a.start - b.start);
  for (let i = 1; i < ordered.length; i++) {
    if (ordered[i].start - 30 < ordered[i - 1].end)
      damaged(where, `${ordered[i].name} overlaps ${ordered[i - 1].name}`);
  }
}

export function damaged(where: string, found: string): never {
  return refuseZip('zip-damaged', where, found, 'a whole zip archive', 'Copy or download it again');
}
