import type { Issue } from '../../engine/issue.ts';
import type { Column } from '../../engine/layers/source.ts';
import { newTally, note, type Tally, tallyText } from '../tally.ts';
import type { PlainText } from '../text/decode.ts';
import { textDictionary } from '../text/dictionary.ts';
import { asciiText } from '../text/number-bytes.ts';
import { cellNumber, hasLeadingZero, isMissing } from './cell.ts';
import type { CsvLayout } from './layout.ts';
import { DOUBLED, RowCursor } from './row-cursor.ts';

export interface CsvTable {
  readonly rows: number;
  readonly columns: readonly Column[];
  readonly setAside: Readonly<Record<string, number>>;
  readonly issues: readonly Issue[];
}

interface ColumnCount {
  numbers: number;
  leadingZero: boolean;
  readonly words: Tally;
}

/**
 * Reads the rows twice: every cell as a number, then, for the columns that turn out to be text, as coded text.
 * A column is numeric when at least 95 % of its known cells are plain numbers and none has a leading zero.
 */
export function readTable(
  text: PlainText,
  layout: CsvLayout,
  names: readonly string[],
  where: string,
): CsvTable {
  const width = names.length;
  const capacity = rowsAtMost(text.bytes, layout.start, width);
  const values = names.map(() => new Float64Array(capacity));
  const counts = names.map((): ColumnCount => ({ numbers: 0, leadingZero: false, words: newTally() }));
  const ragged = newTally();
  const malformed = newTally();
  let rows = 0;
  const { bytes } = text;
  forEachRow(text, layout, width, where, { ragged, malformed }, (cursor) => {
    const { starts, ends } = cursor;
    for (let column = 0; column < width; column++) {
      const start = starts[column];
      const end = ends[column];
      const value = cellNumber(bytes, start, end, layout.point);
      values[column][rows] = value;
      const count = counts[column];
      if (!Number.isNaN(value)) {
        count.numbers++;
        if (!count.leadingZero && hasLeadingZero(bytes, start, end)) count.leadingZero = true;
      } else if (end > start && !isMissing(bytes, start, end)) {
        if (count.words.count < 20) note(count.words, `${cursor.line} '${shown(bytes, start, end)}'`);
        else count.words.count++;
      }
    }
    rows++;
  });
  const isText = counts.map(
    ({ numbers, words, leadingZero }) => leadingZero || numbers < 0.95 * (numbers + words.count),
  );
  const coded = readText(text, layout, isText, rows, where);
  const columns = names.map((name, column): Column => {
    const own = coded[column];
    if (own) return { name, kind: 'text', ...own };
    return { name, kind: 'number', values: values[column].subarray(0, rows) };
  });
  const issues: Issue[] = [];
  for (let column = 0; column < width; column++) {
    if (!isText[column] && counts[column].words.count > 0) {
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
  const cursor = new RowCursor(text.bytes, layout.delimiter, where, layout.start, layout.line);
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

function readText(
  text: PlainText,
  layout: CsvLayout,
  isText: readonly boolean[],
  rows: number,
  where: string,
) {
  const which = isText.flatMap((yes, column) => (yes ? [column] : []));
  const codes = new Map(which.map((column) => [column, new Int32Array(rows)]));
  const dictionaries = new Map(which.map((column) => [column, textDictionary(text.bytes)]));
  if (which.length > 0) {
    const aside = { ragged: newTally(), malformed: newTally() };
    let row = 0;
    forEachRow(text, layout, isText.length, where, aside, ({ starts, ends, marks }) => {
      for (const column of which) {
        const [start, end] = [starts[column], ends[column]];
        const known = !isMissing(text.bytes, start, end);
        codes.get(column)![row] = known
          ? dictionaries.get(column)!.code(start, end, marks[column] === DOUBLED)
          : -1;
      }
      row++;
    });
  }
  const decoder = new TextDecoder(text.encoding);
  return isText.map((yes, column) =>
    yes
      ? {
          codes: codes.get(column)!,
          levels: dictionaries.get(column)!.levels((bytes) => decoder.decode(bytes)),
        }
      : null,
  );
}

/** Rows of `width` cells need as many bytes; so no more rows than that, and no more than line ends. */
function rowsAtMost(bytes: Uint8Array, start: number, width: number): number {
  let ends = 1;
  for (let i = start; i < bytes.length; i++) if (bytes[i] === 10 || bytes[i] === 13) ends++;
  return Math.min(ends, Math.ceil((bytes.length - start) / width) + 1);
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
