import type { Issue } from '../../engine/issue.ts';
import type { Column } from '../../engine/layers/source.ts';
import { newTally, note, type Tally, tallyText } from '../tally.ts';
import type { PlainText } from '../text/decode.ts';
import { textColumn } from '../text/dictionary.ts';
import {
  alwaysAmbiguous,
  type Commas,
  judgeDecimals,
  judgeWords,
  readAgain,
  type Verdict,
} from './ambiguous-numbers.ts';
import { asideIssue } from './aside-issue.ts';
import { ColumnReading } from './column-reading.ts';
import type { CsvLayout } from './layout.ts';
import { RowCursor } from './row-cursor.ts';
import { codeCells, newCells } from './text-cells.ts';

export interface CsvTable {
  readonly rows: number;
  readonly columns: readonly Column[];
  readonly setAside: Readonly<Record<string, number>>;
  readonly issues: readonly Issue[];
}

const TEXT: Verdict = { point: null, text: true, issue: null };

/**
 * Reads every cell as a number, but of columns that begin with a word keeps the places of the cells; a column that turns out to be of the other kind
 * is walked a second time. A column is numeric when at least 95 % of its known cells are plain numbers and none has a leading zero.
 */
export function readTable(
  text: PlainText,
  layout: CsvLayout,
  names: readonly string[],
  where: string,
  commas: Commas = {},
): CsvTable {
  const width = names.length;
  const { bytes } = text;
  let capacity = likelyRows(bytes, layout.start, width);
  const readings = names.map((_, column) => new ColumnReading(bytes, layout.point, column, capacity));
  const ragged = newTally();
  const malformed = newTally();
  let rows = 0;
  forEachRow(text, layout, width, where, { ragged, malformed }, (cursor) => {
    if (rows === capacity) {
      capacity = 2 * capacity;
      for (const reading of readings) reading.extend(capacity);
    }
    for (let column = 0; column < width; column++) readings[column].take(cursor, rows);
    rows++;
  });
  const eachRow = (take: (cursor: RowCursor) => void) =>
    forEachRow(text, layout, width, where, { ragged: newTally(), malformed: newTally() }, take);
  const sure = readings.map(
    (reading, column) => !layout.ambiguous.has(column) && reading.isTextForSure(rows),
  );
  const early = readings.filter(({ cells }, column) => cells && !sure[column]);
  walkAgain(early, eachRow, (reading, cursor, row) => reading.lookAt(cursor, row));
  const verdicts = names.map((name, column): Verdict => {
    if (sure[column]) return TEXT;
    const example = layout.ambiguous.get(column);
    if (example !== undefined && alwaysAmbiguous(bytes, column, eachRow))
      return judgeDecimals(where, name, example, layout.proven, commas);
    return judgeWords(readings[column].seen(rows), where, name, layout.point, commas);
  });
  const isText = readings.map((reading, column) => {
    const { point, text: asked } = verdicts[column];
    const { numbers, words } = reading.seen(rows);
    return asked || reading.leadingZero || (point === null && numbers < 0.95 * (numbers + words));
  });
  const again = verdicts.map(({ point }, column) =>
    point === null || isText[column] ? null : readAgain(bytes, column, point, rows, eachRow),
  );
  const late = readings.filter(({ cells }, column) => isText[column] && !cells);
  for (const reading of late) reading.cells = newCells(rows);
  walkAgain(late, eachRow, (reading, cursor, row) => reading.keep(cursor, row));
  const columns = names.map((name, column): Column => {
    const { values, cells: own } = readings[column];
    if (!own || !isText[column]) {
      const unit = layout.units?.[column];
      return {
        name,
        kind: 'number',
        values: again[column] ?? values.subarray(0, rows),
        ...(unit ? { unit } : {}),
      };
    }
    return textColumn(
      name,
      () => codeCells(text, own, rows),
      () => ({ bytes, starts: own.starts.subarray(0, rows), ends: own.ends.subarray(0, rows) }),
    );
  });
  const issues: Issue[] = verdicts.flatMap(({ issue }) => issue ?? []);
  for (let column = 0; column < width; column++) {
    const { words } = readings[column];
    if (!isText[column] && !again[column] && words.count > 0)
      issues.push(notNumbers(`${where} › ${names[column]}`, words, rows));
  }
  const setAside: Record<string, number> = {};
  if (ragged.count > 0) {
    setAside['ragged-row'] = ragged.count;
    issues.push(asideIssue('ragged-row', where, ragged, `rows of ${width} cells`));
  }
  if (malformed.count > 0) {
    setAside['malformed-quote'] = malformed.count;
    issues.push(
      asideIssue('malformed-quote', where, malformed, 'nothing between a closing quote and the next column'),
    );
  }
  return { rows, columns, setAside, issues };
}

function forEachRow(
  text: PlainText,
  layout: CsvLayout,
  width: number,
  where: string,
  aside: { ragged: Tally; malformed: Tally },
  take: (cursor: RowCursor) => void,
): void {
  const { delimiter, start, line, point } = layout;
  const cursor = new RowCursor(text.bytes, delimiter, where, start, line, point);
  for (let cells = cursor.next(); cells >= 0; cells = cursor.next()) {
    if (cells === width && !cursor.malformed) {
      if (width === 1 ? cursor.ends[0] > cursor.starts[0] : !isBlankRow(cursor, cells)) take(cursor);
    } else if (!isBlankLine(text.bytes, cursor, cells))
      note(cursor.malformed ? aside.malformed : aside.ragged, cursor.line);
  }
}

function isBlankRow(cursor: RowCursor, cells: number): boolean {
  for (let i = 0; i < cells; i++) if (cursor.ends[i] > cursor.starts[i]) return false;
  return true;
}

/** Nothing but blanks, as between the blocks of a sheet. */
function isBlankLine(bytes: Uint8Array, { starts, ends }: RowCursor, cells: number): boolean {
  for (let i = 0; i < cells; i++)
    for (let at = starts[i]; at < ends[i]; at++) if (bytes[at] !== 32 && bytes[at] !== 9) return false;
  return true;
}

/** A second walk over the rows for columns that turned out to be of another kind than they began. */
function walkAgain(
  readings: readonly ColumnReading[],
  eachRow: (take: (cursor: RowCursor) => void) => void,
  take: (reading: ColumnReading, cursor: RowCursor, row: number) => void,
): void {
  if (readings.length === 0) return;
  let row = 0;
  eachRow((cursor) => {
    for (const reading of readings) take(reading, cursor, row);
    row++;
  });
}

const SAMPLE_BYTES = 1 << 16;

/** Rows to make room for: by the line ends in the first bytes, and rows of `width` cells need as many bytes. There may be more. */
function likelyRows(bytes: Uint8Array, start: number, width: number): number {
  const end = Math.min(bytes.length, start + SAMPLE_BYTES);
  let lines = 1;
  for (let i = start; i < end; i++) if (bytes[i] === 10 || bytes[i] === 13) lines++;
  const likely =
    end === bytes.length ? lines : Math.ceil((1.05 * lines * (bytes.length - start)) / SAMPLE_BYTES);
  return Math.min(likely, Math.ceil((bytes.length - start) / width) + 1);
}

function notNumbers(where: string, words: Tally, rows: number): Issue {
  return {
    code: 'csv-not-a-number',
    severity: 'warning',
    where,
    found: tallyText(words, words.count === 1 ? 'line' : 'lines'),
    expected: 'numbers, as in the rest of the column',
    effect: `${words.count} of ${rows} values are taken as not known`,
    remedy: 'Correct these cells if they matter',
  };
}
