import { newTally, note, type Tally } from '../tally.ts';
import type { PlainText } from '../text/decode.ts';
import { isMissing } from './cell.ts';
import type { CsvLayout } from './layout.ts';
import { DOUBLED, RowCursor } from './row-cursor.ts';

/** Rows that were not taken, by line. */
export interface RowsAside {
  readonly ragged: Tally;
  readonly malformed: Tally;
}

/**
 * The rows of a table that `readTable` takes, in the same order, with their line and their cells as written: `06110` and `2.10` stay what they are. A cell
 * that is blank or says that there is nothing is ''; `raw` has them with their blanks and whatever they say.
 */
export function forEachRowText(
  text: PlainText,
  layout: CsvLayout,
  where: string,
  take: (line: number, cell: (column: number) => string, raw: (column: number) => string) => void,
): RowsAside {
  const width = layout.names.length;
  const aside = { ragged: newTally(), malformed: newTally() };
  const { bytes } = text;
  const cursor = new RowCursor(bytes, layout.delimiter, where, layout.start, layout.line, layout.point);
  const raw = (column: number) => {
    const words = text.decode(bytes.subarray(cursor.starts[column], cursor.ends[column]));
    return cursor.marks[column] === DOUBLED ? words.replaceAll('""', '"') : words;
  };
  const cell = (column: number) =>
    isMissing(bytes, cursor.starts[column], cursor.ends[column]) ? '' : raw(column).trim();
  for (let cells = cursor.next(); cells >= 0; cells = cursor.next()) {
    if (isBlank(cursor, cells)) continue;
    if (cells !== width) note(aside.ragged, cursor.line);
    else if (cursor.malformed) note(aside.malformed, cursor.line);
    else take(cursor.line, cell, raw);
  }
  return aside;
}

function isBlank({ starts, ends }: RowCursor, cells: number): boolean {
  for (let i = 0; i < cells; i++) if (ends[i] > starts[i]) return false;
  return true;
}
