import { newTally, note, type Tally } from '../tally.ts';
import { asciiText } from '../text/number-bytes.ts';
import type { Seen } from './ambiguous-numbers.ts';
import { cellKind, cellNumber, hasLeadingZero, isMissing } from './cell.ts';
import { DOUBLED, type RowCursor } from './row-cursor.ts';
import { cellEnd, extendCells, keepCell, NOTHING, newCells, type TextCells } from './text-cells.ts';
import { grouping } from './thousands.ts';

/** What one column is while its rows are walked: of one that begins with a word the places of its cells, of any other its numbers and what was seen beside them. */
export class ColumnReading {
  readonly column: number;
  /** NaN for blanks and words. */
  values: Float64Array;
  cells: TextCells | null = null;
  leadingZero = false;
  /** Cells that are blank or say that there is nothing. */
  private missing = 0;
  /** Known cells that are no numbers. */
  readonly words: Tally = newTally();
  /** Words that are numbers with parted thousands, those that can be nothing else, and the first. */
  private grouped = 0;
  private certain = 0;
  private example = '';
  private readonly bytes: Uint8Array;
  private readonly point: number;

  constructor(bytes: Uint8Array, point: number, column: number, capacity: number) {
    this.bytes = bytes;
    this.point = point;
    this.column = column;
    this.values = new Float64Array(capacity);
  }

  extend(capacity: number): void {
    const longer = new Float64Array(capacity);
    longer.set(this.values);
    this.values = longer;
    if (this.cells) extendCells(this.cells, capacity);
  }

  /** The cell of the row the cursor stands at, in a first walk. */
  take(cursor: RowCursor, row: number): void {
    const { column } = this;
    if (row === 0 && cellKind(this.bytes, cursor.starts[column], cursor.ends[column], this.point) === 'text')
      this.cells = newCells(this.values.length);
    if (this.cells) this.keep(cursor, row);
    else if (Number.isNaN(cursor.values[column])) this.lookAt(cursor, row);
    else this.values[row] = cursor.values[column];
  }

  keep(cursor: RowCursor, row: number): void {
    const start = cursor.starts[this.column];
    const end = cursor.ends[this.column];
    const known = !isMissing(this.bytes, start, end);
    keepCell(this.cells!, row, start, end, known, cursor.marks[this.column] === DOUBLED);
  }

  /** A cell whose number was not read in passing. */
  lookAt(cursor: RowCursor, row: number): void {
    const { bytes, point } = this;
    const start = cursor.starts[this.column];
    const end = cursor.ends[this.column];
    this.values[row] = cellNumber(bytes, start, end, point);
    if (!Number.isNaN(this.values[row])) this.leadingZero ||= hasLeadingZero(bytes, start, end);
    else if (isMissing(bytes, start, end)) this.missing++;
    else {
      if (this.words.count < 20) note(this.words, `${cursor.line} '${shown(bytes, start, end)}'`);
      else this.words.count++;
      this.countGrouped(start, end);
    }
  }

  private countGrouped(start: number, end: number): void {
    const found = grouping(this.bytes, start, end, this.point);
    if (found === 'none') return;
    if (this.grouped === 0) this.example = shown(this.bytes, start, end);
    this.grouped++;
    if (found === 'certain') this.certain++;
  }

  /** Whether more than one cell in twenty of a column that begins with a word can be no number, not even one with parted thousands: the others need no look. */
  isTextForSure(rows: number): boolean {
    const { bytes, point, cells } = this;
    let words = 0;
    for (let row = 0; cells && row < rows && words <= rows / 20; row++) {
      const start = cells.starts[row];
      const end = cellEnd(cells, row);
      if (end === NOTHING) continue;
      const word = cellKind(bytes, start, end, point) === 'text';
      if (word && grouping(bytes, start, end, point) === 'none') words++;
    }
    return words > rows / 20;
  }

  /** Of a column looked at in all its rows. */
  seen(rows: number): Seen {
    const { grouped, certain, example, words } = this;
    return { numbers: rows - this.missing - words.count, words: words.count, grouped, certain, example };
  }
}

function shown(bytes: Uint8Array, start: number, end: number): string {
  return asciiText(bytes, start, Math.min(end, start + 40));
}
