import type { Issue } from '../../engine/issue.ts';
import type { Column, TextPlaces } from '../../engine/layers/source.ts';
import { uniqueNames } from '../column-names.ts';
import { textColumn, textDictionary } from '../text/dictionary.ts';
import { asciiText } from '../text/number-bytes.ts';
import { isAscii } from '../text/scan.ts';
import { dbfDecoder } from './code-page.ts';
import { type DbfField, type DbfHeader, dbfHeader } from './dbf-header.ts';
import { dbfNumbers, notNumbers } from './dbf-numbers.ts';
import { tableRows, type Wanted } from './table-rows.ts';

/** Columns of as many records as there are shapes; not known where the table has no row for one. */
export interface DbfTable {
  readonly columns: readonly Column[];
  /** Rows marked as deleted; they are in the columns too. */
  readonly deleted: ReadonlySet<number>;
  readonly issues: readonly Issue[];
}

/** `rows` are read, of `records`. */
interface Table extends DbfHeader {
  readonly records: number;
}

const SPACE = 32;

/**
 * Reads a .dbf: C as text, N and F as numbers (blank or `*` is NaN), L as 'true'/'false', D as 'YYYY-MM-DD'.
 * Other types are left out with a warning. `cpg` is the text of the .cpg member, null without one. Throws a Refusal.
 */
export function readDbf(
  bytes: Uint8Array,
  cpg: string | null,
  where: string,
  wanted: Wanted,
  encoding?: string,
): DbfTable {
  const stated = dbfHeader(bytes, where);
  const { rows, issues: counted } = tableRows(stated, bytes.length, wanted, where);
  const header: Table = { ...stated, rows, records: wanted.shapes };
  const readable = header.fields.filter((field) => 'CNFLD'.includes(field.type));
  const { numbers, deleted, plain } = dbfNumbers(
    bytes,
    header,
    readable.filter((field) => 'NF'.includes(field.type)),
    header.records,
  );
  // Letters beyond ASCII help to settle the code page; without any, text waits until it is asked for.
  const coded = new Map(
    readable
      .filter((field) => field.type === 'C' && !plain)
      .map((field) => [field, codeText(bytes, header, field)]),
  );
  const letters = [
    ...readable.map((field) => field.name),
    ...[...coded.values()].flatMap((text) => text.beyondAscii),
  ];
  const { decode, issues } = dbfDecoder(
    cpg,
    header.language,
    letters.filter((text) => !isAscii(text)),
    where,
    encoding,
  );
  const named = uniqueNames(
    readable.map((field) => decode(field.name)),
    where,
  );
  const columns = readable.map((field, index): Column => {
    const name = named.names[index];
    if (field.type === 'C') {
      const read = () => {
        const { codes, levels } = coded.get(field) ?? codeText(bytes, header, field);
        return { codes, levels: levels(decode) };
      };
      return textColumn(name, read, () => textPlaces(bytes, header, field));
    }
    if (field.type === 'L') return { name, kind: 'text', ...logicals(bytes, header, field) };
    if (field.type === 'D') return { name, kind: 'text', ...dates(bytes, header, field) };
    const own = numbers.find((each) => each.field === field)!;
    issues.push(...notNumbers(own, `${where} › ${name}`));
    return { name, kind: 'number', values: own.values };
  });
  return {
    columns,
    deleted,
    issues: [...counted, ...issues, ...named.issues, ...leftOut(header, where)],
  };
}

function textPlaces(bytes: Uint8Array, header: Table, field: DbfField): TextPlaces {
  const starts = new Int32Array(header.records);
  const ends = new Int32Array(header.records).fill(-1);
  let at = header.start + field.offset;
  for (let row = 0; row < header.rows; row++, at += header.rowLength) {
    let to = at + field.width;
    while (to > at && (bytes[to - 1] === SPACE || bytes[to - 1] === 0)) to--;
    starts[row] = at;
    if (to > at) ends[row] = to;
  }
  return { bytes, starts, ends };
}

function codeText(bytes: Uint8Array, header: Table, field: DbfField) {
  const codes = new Int32Array(header.records).fill(-1, header.rows);
  const dictionary = textDictionary(bytes);
  const beyondAscii: Uint8Array[] = [];
  let known = 0;
  let at = header.start + field.offset;
  for (let row = 0; row < header.rows; row++, at += header.rowLength) {
    let to = at + field.width;
    while (to > at && (bytes[to - 1] === SPACE || bytes[to - 1] === 0)) to--;
    codes[row] = to === at ? -1 : dictionary.code(at, to);
    if (codes[row] === known) {
      known++;
      if (!isAscii(bytes, at, to)) beyondAscii.push(bytes.subarray(at, to));
    }
  }
  return { codes, levels: dictionary.levels, beyondAscii };
}

function logicals(bytes: Uint8Array, header: Table, field: DbfField) {
  const codes = new Int32Array(header.records).fill(-1, header.rows);
  for (let row = 0; row < header.rows; row++) {
    const letter = String.fromCharCode(bytes[header.start + row * header.rowLength + field.offset]);
    codes[row] = 'TtYy'.includes(letter) ? 1 : 'FfNn'.includes(letter) ? 0 : -1;
  }
  return { codes, levels: ['false', 'true'] };
}

function dates(bytes: Uint8Array, header: Table, field: DbfField) {
  const codes = new Int32Array(header.records).fill(-1, header.rows);
  const known = new Map<string, number>();
  for (let row = 0; row < header.rows; row++) {
    const at = header.start + row * header.rowLength + field.offset;
    const day = asciiText(bytes, at, at + Math.min(field.width, 8));
    if (!/^\d{8}$/.test(day) || day === '00000000') {
      codes[row] = -1;
      continue;
    }
    const text = `${day.slice(0, 4)}-${day.slice(4, 6)}-${day.slice(6)}`;
    if (!known.has(text)) known.set(text, known.size);
    codes[row] = known.get(text) ?? -1;
  }
  return { codes, levels: [...known.keys()] };
}

function leftOut(header: DbfHeader, where: string): Issue[] {
  const skipped = header.fields.filter((field) => !'CNFLD'.includes(field.type));
  if (skipped.length === 0) return [];
  const list = skipped.map(
    (field) => `'${asciiText(field.name, 0, field.name.length)}' (type ${field.type})`,
  );
  return [
    {
      code: 'dbf-column-not-read',
      severity: 'warning',
      where,
      found: `columns ${list.join(', ')}`,
      expected: 'columns of type C, N, F, L or D',
      effect: 'These columns are left out',
      remedy: 'Export them as text or numbers if they are needed',
    },
  ];
}
