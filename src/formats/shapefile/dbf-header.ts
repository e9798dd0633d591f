import { Refusal } from '../../engine/issue.ts';

export interface DbfField {
  /** Name as bytes; the code page is settled later. */
  readonly name: Uint8Array;
  /** One letter: C N F L D, or one that is not read. */
  readonly type: string;
  readonly offset: number;
  readonly width: number;
  readonly decimals: number;
}

export interface DbfHeader {
  /** As stated; the file may have room for fewer or more. */
  readonly rows: number;
  /** Byte where the rows begin. */
  readonly start: number;
  readonly rowLength: number;
  readonly language: number;
  readonly fields: readonly DbfField[];
}

/** Version bytes of tables with more column types, whose header may run on after the columns (by a 263-byte path). */
const LATER = [0x30, 0x31, 0x32];
const AGAIN = 'Export the layer again, or hand it over without the .dbf to read shapes only';

export function refuseDbf(code: string, where: string, found: string, expected: string): never {
  const remedy =
    code === 'dbf-count' || code === 'dbf-truncated'
      ? `${AGAIN}; or state that its rows go with the shapes in order as far as they go`
      : AGAIN;
  throw new Refusal({ code, where, found, expected, effect: 'The layer was not read', remedy });
}

/** Header and column descriptors of a dBASE III table (or of its later kin with the same layout). Throws a Refusal. */
export function dbfHeader(bytes: Uint8Array, where: string): DbfHeader {
  if (bytes.length < 33) refuseDbf('dbf-header', where, `${bytes.length} bytes`, 'at least a 33-byte header');
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if ((bytes[0] & 7) !== 3 && !LATER.includes(bytes[0]))
    refuseDbf('dbf-header', where, `version byte ${bytes[0]}`, 'a dBASE III table (3)');
  const rows = view.getUint32(4, true);
  const start = view.getUint16(8, true);
  const rowLength = view.getUint16(10, true);
  if (start < 33 || start > bytes.length) {
    refuseDbf(
      'dbf-header',
      where,
      `a header of ${start} bytes in a file of ${bytes.length}`,
      '33 bytes or more, inside it',
    );
  }
  const fields = readFields(bytes, start, where);
  const sum = fields.reduce((total, field) => total + field.width, 1);
  if (sum !== rowLength) {
    refuseDbf(
      'dbf-record-length',
      where,
      `rows of ${rowLength} bytes`,
      `${sum}, the sum of the columns and a mark`,
    );
  }
  return { rows, start, rowLength, language: bytes[29], fields };
}

function readFields(bytes: Uint8Array, start: number, where: string): DbfField[] {
  const fields: DbfField[] = [];
  let offset = 1;
  for (let at = 32; at + 32 <= start && bytes[at] !== 0x0d; at += 32) {
    let length = 0;
    while (length < 11 && bytes[at + length] !== 0) length++;
    const type = String.fromCharCode(bytes[at + 11]);
    // Text may be wider than 255: some writers use the byte of the decimals as the high one.
    const width = bytes[at + 16] + (type === 'C' ? 256 * bytes[at + 17] : 0);
    if (width === 0)
      refuseDbf('dbf-header', where, `column ${fields.length + 1} of no width`, 'at least one byte a column');
    fields.push({ name: bytes.subarray(at, at + length), type, offset, width, decimals: bytes[at + 17] });
    offset += width;
  }
  return fields;
}
