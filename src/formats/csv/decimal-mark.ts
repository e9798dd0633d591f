import type { PlainText } from '../text/decode.ts';
import { cellKind } from './cell.ts';
import { isDegreeName } from './position-names.ts';
import { cellText, type SampleRow } from './sample-rows.ts';
import { grouping } from './thousands.ts';

const COMMA = 44;
const POINT = 46;

/** A comma where the delimiter is another and at least nine numbers in ten can be read with it. */
export function decimalMark(bytes: Uint8Array, rows: readonly SampleRow[], delimiter: number): number {
  if (delimiter === COMMA) return POINT;
  let [commas, points, whole] = [0, 0, 0];
  for (const { cells } of rows) {
    for (const { start, end } of cells) {
      const byPoint = cellKind(bytes, start, end, POINT) === 'number';
      const byComma = cellKind(bytes, start, end, COMMA) === 'number';
      if (byPoint && byComma) whole++;
      else if (byComma) commas++;
      else if (byPoint) points++;
    }
  }
  return commas > 0 && commas + whole >= 0.9 * (commas + whole + points) ? COMMA : POINT;
}

/**
 * Columns with numbers whose every comma has three digits after it and may part thousands, each with an example; and a number of another column that only a
 * decimal comma explains, null without one. Degrees are never in thousands.
 */
export function commasOf(
  text: PlainText,
  rows: readonly SampleRow[],
  names: readonly string[],
  point: number,
) {
  const ambiguous = new Map<number, string>();
  let proven: string | null = null;
  if (point !== COMMA) return { ambiguous, proven };
  for (const [column, name] of names.entries()) {
    const cells = rows
      .map((row) => row.cells[column])
      .filter(({ start, end }) => text.bytes.subarray(start, end).includes(COMMA))
      .filter(({ start, end }) => cellKind(text.bytes, start, end, COMMA) === 'number');
    if (cells.length === 0) continue;
    const certain = cells.find(
      ({ start, end }) => isDegreeName(name) || grouping(text.bytes, start, end, POINT) === 'none',
    );
    if (certain) proven ??= cellText(text, certain).trim();
    else ambiguous.set(column, cellText(text, cells[0]).trim());
  }
  return { ambiguous, proven };
}
