import { bestDelimiter, cellText } from '../csv/sample-rows.ts';
import type { FileBytes } from '../file-bytes.ts';
import { plainText } from '../text/decode.ts';
import { roleNamed } from './trial-words.ts';

/** Rows of a sheet that may hold titles. */
const MOST_TITLES = 15;

/**
 * The line of the names where rows with a title in a cell or two, filled up with delimiters to the width of the table, stand above it; null where the first row of
 * that width is no title.
 */
export function headerBelowTitles(file: FileBytes, encoding: string | undefined): number | null {
  const text = plainText(file.bytes, encoding);
  const { rows, width } = bestDelimiter(text.bytes, file.name, 0);
  const whole = rows.filter(({ cells }) => cells.length === width).slice(0, MOST_TITLES + 1);
  for (const [k, row] of whole.entries()) {
    const cells = row.cells.map((cell) => cellText(text, cell).trim()).filter((own) => own !== '');
    const roles = new Set(cells.flatMap((own) => roleNamed(own)?.role ?? []));
    if (roles.size >= 2) return k > 0 ? row.line : null;
    if (3 * cells.length > width && cells.length > 1) return null;
  }
  return null;
}
