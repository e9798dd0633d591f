import { bestDelimiter, cellText } from '../csv/sample-rows.ts';
import type { FileBytes } from '../file-bytes.ts';
import { plainText } from '../text/decode.ts';
import { roleNamed } from './trial-words.ts';

/** Rows of a sheet that may hold titles. */
const MOST_TITLES = 15;

/**
 * The line of the names of a trial table, by the words in it: also where numbers stand among them (`22000`), and below rows with a title in a cell or two that are
 * filled up with delimiters to the width of the table. Null where no row has them.
 */
export function trialHeaderLine(file: FileBytes, encoding: string | undefined): number | null {
  const text = plainText(file.bytes, encoding);
  const { rows, width } = bestDelimiter(text.bytes, file.name, 0);
  const whole = rows.filter(({ cells }) => cells.length === width).slice(0, MOST_TITLES + 1);
  for (const row of whole) {
    const cells = row.cells.map((cell) => cellText(text, cell).trim()).filter((own) => own !== '');
    // A number in a name may be of a product or a place in a row without names.
    const words = cells.filter((own) => !/^\p{L}[^\d(]*\d+$/u.test(own));
    if (new Set(words.flatMap((own) => roleNamed(own)?.role ?? [])).size >= 2) return row.line;
    if (3 * cells.length > width && cells.length > 1) return null;
  }
  return null;
}
