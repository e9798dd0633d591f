import type { Issue } from '../../engine/issue.ts';
import { newTally, note, type Tally, tallyText } from '../tally.ts';
import { asciiText, numberFromBytes } from '../text/number-bytes.ts';
import { isAscii } from '../text/scan.ts';
import type { DbfField, DbfHeader } from './dbf-header.ts';

const SPACE = 32;
const STAR = 42;
/** Rows taken through all columns before the next: so many lie in the cache of a processor, and a table of a million rows is fetched once. */
const BLOCK = 4096;

/** A column of numbers, N or F; NaN for blanks, stars and what is no number. */
export interface DbfNumbers {
  readonly field: DbfField;
  readonly values: Float64Array;
  readonly bad: Tally;
}

/**
 * Reads the number columns and the marks of deleted rows, and tells whether the rows are `plain`: without letters beyond ASCII. Columns are of `records` values, the last not known where there are fewer rows.
 */
export function dbfNumbers(
  bytes: Uint8Array,
  header: DbfHeader,
  fields: readonly DbfField[],
  records: number,
): { numbers: DbfNumbers[]; deleted: Set<number>; plain: boolean } {
  const { rows, start, rowLength } = header;
  const deleted = new Set<number>();
  const numbers = fields.map((field) => ({
    field,
    values: new Float64Array(records).fill(Number.NaN, rows),
    bad: newTally(),
  }));
  let plain = true;
  for (let from = 0; from < rows; from += BLOCK) {
    const to = Math.min(rows, from + BLOCK);
    for (let row = from; row < to; row++) if (bytes[start + row * rowLength] === STAR) deleted.add(row);
    for (const column of numbers) readBlock(bytes, header, column, from, to);
    plain &&= isAscii(bytes, start + from * rowLength, start + to * rowLength);
  }
  return { numbers, deleted, plain };
}

function readBlock(
  bytes: Uint8Array,
  { start, rowLength }: DbfHeader,
  { field, values, bad }: DbfNumbers,
  first: number,
  end: number,
): void {
  let at = start + first * rowLength + field.offset;
  for (let row = first; row < end; row++, at += rowLength) {
    let from = at;
    let to = at + field.width;
    while (from < to && bytes[from] === SPACE) from++;
    while (to > from && (bytes[to - 1] === SPACE || bytes[to - 1] === 0)) to--;
    if (from === to || bytes[from] === STAR || bytes[from] === 0) {
      values[row] = Number.NaN;
      continue;
    }
    const value = numberFromBytes(bytes, from, to);
    values[row] = value;
    if (Number.isNaN(value)) note(bad, `${row + 1} '${asciiText(bytes, from, to)}'`);
  }
}

export function notNumbers({ values, bad }: DbfNumbers, where: string): Issue[] {
  if (bad.count === 0) return [];
  const issue: Issue = {
    code: 'dbf-not-a-number',
    severity: 'warning',
    where,
    found: tallyText(bad, bad.count === 1 ? 'record' : 'records'),
    expected: 'plain numbers with a decimal point',
    effect: `${bad.count} of ${values.length} values are taken as not known`,
    remedy: 'Correct these values and export the layer again',
  };
  return [issue];
}
