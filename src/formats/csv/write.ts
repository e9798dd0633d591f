import { Refusal } from '../../engine/issue.ts';

/** A cell a spreadsheet might run as a formula: it starts with = + - @, a tab or a line end, or a full-width twin. */
const FORMULA = /^[=+\-@\t\r\n＝＋－＠]/;
const PLAIN_NUMBER = /^[+-]?\d+(\.\d+)?$/;

/**
 * Rows as RFC 4180 text: UTF-8, commas, CRLF, quotes where needed. Text that a spreadsheet could take for a formula
 * gets an apostrophe before it; numbers and text that is a plain number do not. Throws a Refusal for NaN or Infinity.
 */
export function writeCsv(rows: readonly (readonly (string | number)[])[]): Uint8Array {
  const lines = rows.map((row, index) => row.map((cell) => cellText(cell, index + 1)).join(','));
  return new TextEncoder().encode(lines.map((line) => `${line}\r\n`).join(''));
}

function cellText(cell: string | number, row: number): string {
  if (typeof cell === 'number') {
    if (Number.isFinite(cell)) return String(cell === 0 ? 0 : cell);
    throw new Refusal({
      code: 'export-refused',
      where: `row ${row}`,
      found: String(cell),
      expected: 'a number',
      effect: 'Nothing was written',
      remedy: 'Leave the cell empty where nothing is known',
    });
  }
  const guarded = FORMULA.test(cell) && !PLAIN_NUMBER.test(cell) ? `'${cell}` : cell;
  const quoted = guarded !== cell || /[",\r\n]/.test(guarded);
  return quoted ? `"${guarded.replaceAll('"', '""')}"` : guarded;
}
