import type { Issue } from '../../engine/issue.ts';
import type { Column } from '../../engine/layers/source.ts';
import { newTally, note, type Tally, tallyText } from '../tally.ts';
import type { PlainText } from '../text/decode.ts';
import { textColumn } from '../text/dictionary.ts';
import { asciiText } from '../text/number-bytes.ts';
import {
  alwaysAmbiguous,
  type Commas,
  judgeDecimals,
  judgeWords,
  readAgain,
  type Verdict,
} from './ambiguous-numbers.ts';
import { cellNumber, hasLeadingZero, isMissing } from './cell.ts';
import type { CsvLayout } from './layout.ts';
import { DOUBLED, RowCursor } from './row-cursor.ts';
import { codeCells, extendCells, keepCell, newCells, type TextCells } from './text-cells.ts';
import { grouping } from './thousands.ts';

export interface CsvTable {
  readonly rows: number;
  readonly columns: readonly Column[];
  readonly setAside: Readonly<Record<string, number>>;
  readonly issues: readonly Issue[];
}

interface ColumnCount {
  numbers: number;
  leadingZero: boolean;
  /** Words that are numbers with parted thousands, those that can be nothing else, and the first. */
  grouped: number;
  certain: number;
  example: string;
  readonly words: Tally;
}

/**
 * Reads every cell as a number, and keeps the places of the cells of columns that begin with a word; a column that turns out to be text
 * only later is walked a second time. A column is numeric when at least 95 % of its known cells are plain numbers and none has a leading zero.
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
  const values = names.map(() => new Float64Array(capacity));
  const counts = names.map(
    (): ColumnCount => ({
      numbers: 0,
      leadingZero: false,
      grouped: 0,
      certain: 0,
      example: '',
      words: newTally(),
    }),
  );
  const cells = names.map((): TextCells | null => null);
  const ragged = newTally();
  const malformed = newTally();
  let rows = 0;
  forEachRow(text, layout, width, where, { ragged, malformed }, (cursor) => {
    const { starts, ends, marks, values: passed } = cursor;
    if (rows === capacity) {
      capacity = 2 * capacity;
      for (let column = 0; column < width; column++) {
        const longer = new Float64Array(capacity);
        longer.set(values[column]);
        values[column] = longer;
        const own = cells[column];
        if (own) extendCells(own, capacity);
      }
    }
    for (let column = 0; column < width; column++) {
      const start = starts[column];
      const end = ends[column];
      const own = values[column];
      own[rows] = passed[column];
      if (Number.isNaN(own[rows]) && end > start) own[rows] = cellNumber(bytes, start, end, layout.point);
      const count = counts[column];
      const isNumber = !Number.isNaN(own[rows]);
      const known = isNumber || (end > start && !isMissing(bytes, start, end));
      if (isNumber) {
        count.numbers++;
        if (!count.leadingZero && hasLeadingZero(bytes, start, end)) count.leadingZero = true;
      } else if (known) {
        if (count.words.count < 20) note(count.words, `${cursor.line} '${shown(bytes, start, end)}'`);
        else count.words.count++;
        countGrouped(count, bytes, start, end, layout.point);
        if (rows === 0) cells[column] = newCells(capacity);
      }
      const kept = cells[column];
      if (kept) keepCell(kept, rows, start, end, known, marks[column] === DOUBLED);
    }
    rows++;
  });
  const eachRow = (take: (cursor: RowCursor) => void) =>
    forEachRow(text, layout, width, where, { ragged: newTally(), malformed: newTally() }, take);
  const verdicts = names.map((name, column): Verdict => {
    const example = layout.ambiguous.get(column);
    if (example !== undefined && alwaysAmbiguous(bytes, column, eachRow))
      return judgeDecimals(where, name, example, layout.proven, commas);
    const { words, ...seen } = counts[column];
    return judgeWords({ ...seen, words: words.count }, where, name, layout.point, commas);
  });
  const isText = counts.map(({ numbers, words, leadingZero }, column) => {
    const { point, text: asked } = verdicts[column];
    return asked || leadingZero || (point === null && numbers < 0.95 * (numbers + words.count));
  });
  const again = verdicts.map(({ point }, column) =>
    point === null || isText[column] ? null : readAgain(bytes, column, point, rows, eachRow),
  );
  const late = isText.flatMap((yes, column) => (yes && !cells[column] ? [column] : []));
  for (const column of late) cells[column] = newCells(rows);
  walkAgain(bytes, late, cells, eachRow);
  const columns = names.map((name, column): Column => {
    const own = cells[column];
    if (!own || !isText[column]) {
      const unit = layout.units?.[column];
      return {
        name,
        kind: 'number',
        values: again[column] ?? values[column].subarray(0, rows),
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
    if (!isText[column] && !again[column] && counts[column].words.count > 0) {
      issues.push(notNumbers(`${where} › ${names[column]}`, counts[column].words, rows));
    }
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
    } else if (!isBlankRow(cursor, cells))
      note(cursor.malformed ? aside.malformed : aside.ragged, cursor.line);
  }
}

function isBlankRow(cursor: RowCursor, cells: number): boolean {
  for (let i = 0; i < cells; i++) if (cursor.ends[i] > cursor.starts[i]) return false;
  return true;
}

function countGrouped(
  count: ColumnCount,
  bytes: Uint8Array,
  start: number,
  end: number,
  point: number,
): void {
  const found = grouping(bytes, start, end, point);
  if (found === 'none') return;
  if (count.grouped === 0) count.example = shown(bytes, start, end);
  count.grouped++;
  if (found === 'certain') count.certain++;
}

/** A second walk over the rows for columns that began with a number or a blank and yet are text. */
function walkAgain(
  bytes: Uint8Array,
  which: readonly number[],
  cells: readonly (TextCells | null)[],
  eachRow: (take: (cursor: RowCursor) => void) => void,
): void {
  if (which.length === 0) return;
  let row = 0;
  eachRow(({ starts, ends, marks }) => {
    for (const column of which) {
      const known = !isMissing(bytes, starts[column], ends[column]);
      keepCell(cells[column]!, row, starts[column], ends[column], known, marks[column] === DOUBLED);
    }
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

function shown(bytes: Uint8Array, start: number, end: number): string {
  return asciiText(bytes, start, Math.min(end, start + 40));
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

function asideIssue(code: string, where: string, tally: Tally, expected: string): Issue {
  return {
    code,
    severity: 'warning',
    where,
    found: tallyText(tally, tally.count === 1 ? 'line' : 'lines'),
    expected,
    effect: `${tally.count} ${tally.count === 1 ? 'row is' : 'rows are'} set aside`,
    remedy: 'Correct these lines if they matter',
  };
}
