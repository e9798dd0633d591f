import { columnKey } from '../../engine/layers/column-key.ts';
import type { CellKind } from './cell.ts';
import type { SampleCell, SampleRow } from './sample-rows.ts';

type KindOf = (cell: SampleCell) => CellKind;

/** Columns of numbers below the given row: their share of numbers among known cells is 95 % or more. */
function numberColumns(rows: readonly SampleRow[], kindOf: KindOf): number[] {
  const width = rows[0]?.cells.length ?? 0;
  return Array.from({ length: width }, (_, column) => column).filter((column) => {
    const kinds = rows.map((row) => kindOf(row.cells[column])).filter((kind) => kind !== 'blank');
    return kinds.length > 0 && kinds.filter((kind) => kind === 'number').length >= 0.95 * kinds.length;
  });
}

/** A word over a column of numbers makes a header; so does a row of words where nothing is a number. */
export function isHeader(body: readonly SampleRow[], kindOf: KindOf): boolean {
  const kinds = body[0].cells.map(kindOf);
  if (body.length === 1) return kinds.every((kind) => kind !== 'number');
  // The row below may hold units, so the columns are judged without it where there is more.
  const numbers = numberColumns(body.slice(body.length > 2 ? 2 : 1), kindOf);
  if (numbers.length === 0) return kinds.every((kind) => kind !== 'number');
  return numbers.some((column) => kinds[column] === 'text');
}

/** Words, and no numbers, in the row under the header, with numbers in at least half of the columns below. */
export function isUnitsRow(rows: readonly SampleRow[], kindOf: KindOf): boolean {
  if (rows.length < 2) return false;
  const kinds = rows[0].cells.map(kindOf);
  const numbers = numberColumns(rows.slice(1), kindOf);
  const short = rows[0].cells.every((cell) => cell.end - cell.start <= 20);
  return (
    short &&
    kinds.every((kind) => kind !== 'number') &&
    numbers.length * 2 >= kinds.length &&
    numbers.some((column) => kinds[column] === 'text')
  );
}

export function sameNames(words: readonly string[], columns: readonly string[]): boolean {
  return words.every((word, index) => columnKey(word) === columnKey(columns[index]));
}
