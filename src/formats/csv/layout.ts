import { type Issue, Refusal } from '../../engine/issue.ts';
import { columnKey } from '../../engine/layers/column-key.ts';
import type { ReadOptions } from '../format.ts';
import type { PlainText } from '../text/decode.ts';
import { cellKind } from './cell.ts';
import {
  decimalCommaIssue,
  noHeaderIssue,
  preambleIssue,
  surveyNamesIssue,
  unitsRowIssue,
} from './layout-issues.ts';
import { isDegreeName } from './position-names.ts';
import { DOUBLED, RowCursor } from './row-cursor.ts';
import { isSurveyHeader, surveyTable } from './survey-tables.ts';
import { grouping } from './thousands.ts';

export interface CsvLayout {
  readonly delimiter: number;
  /** Byte of the decimal mark: point or comma. */
  readonly point: number;
  readonly names: readonly string[];
  /** By column, '' where a row of units says none; null without such a row. */
  readonly units: readonly string[] | null;
  /** Of a file with decimal commas: columns whose commas may part thousands instead, each with an example; and whether other columns prove the comma. */
  readonly ambiguous: ReadonlyMap<number, string>;
  readonly proven: boolean;
  /** Byte and line where the data rows begin. */
  readonly start: number;
  readonly line: number;
  readonly issues: readonly Issue[];
}

interface SampleCell {
  readonly start: number;
  readonly end: number;
  readonly doubled: boolean;
}
interface SampleRow {
  readonly line: number;
  readonly offset: number;
  /** Byte and line where the next row begins. */
  readonly end: number;
  readonly endLine: number;
  readonly cells: readonly SampleCell[];
}

const COMMA = 44;
const POINT = 46;
/** In order of preference where two explain the same rows: a comma may also be a decimal mark. */
const DELIMITERS = [59, 9, 124, COMMA];
const DELIMITER_NAMES: Record<number, string> = { 59: 'semicolon', 9: 'tab', 124: 'bar', 44: 'comma' };
const SAMPLE_ROWS = 50;
const MAX_COLUMNS = 2000;

/**
 * Finds delimiter, header, units row, decimal mark and where the data begin, on the first 50 rows. `columns`: names for a table without a header;
 * `headerLine`: the line that is known to hold it. Throws a Refusal.
 */
export function csvLayout(
  text: PlainText,
  where: string,
  { columns, headerLine }: Pick<ReadOptions, 'columns' | 'headerLine'> = {},
): CsvLayout {
  const from = headerLine === undefined ? 0 : lineStart(text.bytes, headerLine, where);
  const { delimiter, rows, width } = bestDelimiter(text.bytes, where, from, headerLine);
  if (width > MAX_COLUMNS) refuseTable(where, `${width} columns`, `at most ${MAX_COLUMNS}`);
  if (columns && columns.length !== width) {
    refuseTable(where, `rows of ${width} cells`, `${columns.length}, one for each column name given`);
  }
  const first = headerLine === undefined ? rows.findIndex((row) => row.cells.length === width) : 0;
  if (rows[first].cells.length !== width)
    refuseTable(
      where,
      `${rows[first].cells.length} cells in line ${rows[first].line}`,
      `${width}, as in the rows under it`,
    );
  const point = decimalMark(text.bytes, rows.slice(first), delimiter);
  const kindOf = (cell: SampleCell) => cellKind(text.bytes, cell.start, cell.end, point);
  const words = (row: SampleRow) => row.cells.map((cell) => cellText(text, cell));
  const issues: Issue[] = [];
  if (first > 0) issues.push(preambleIssue(where, rows[first].line));
  const body = rows.slice(first).filter((row) => row.cells.length === width);
  const survey = columns || headerLine !== undefined ? null : surveyTable(where, width);
  const headed = columns
    ? sameNames(words(body[0]), columns)
    : survey
      ? isSurveyHeader(survey, words(body[0]))
      : headerLine !== undefined || isHeader(body, kindOf);
  let data = headed ? 1 : 0;
  let names = columns ?? words(body[0]);
  if (!headed && survey) {
    names = survey.columns;
    issues.push(surveyNamesIssue(where, survey.table, width));
  } else if (!headed && !columns) {
    names = body[0].cells.map((_, index) => `column${index + 1}`);
    issues.push(noHeaderIssue(where, width));
  }
  let units: readonly string[] | null = null;
  if (headed && isUnitsRow(body.slice(1), kindOf)) {
    units = words(body[1]).map((unit) => unit.trim());
    issues.push(unitsRowIssue(where, names, units));
    data = 2;
  }
  const commas = commasOf(text, body.slice(data), names, point);
  if (commas.proven) issues.push(decimalCommaIssue(where, DELIMITER_NAMES[delimiter], commas.proven));
  // The very next row, whatever its width: a ragged one right under the header is set aside, not skipped.
  const [start, line] =
    data === 0 ? [body[0].offset, body[0].line] : [body[data - 1].end, body[data - 1].endLine];
  const { ambiguous, proven } = commas;
  return { delimiter, point, names, units, ambiguous, proven: proven !== null, start, line, issues };
}

export function refuseTable(where: string, found: string, expected: string): never {
  throw new Refusal({
    code: 'csv-no-table',
    where,
    found,
    expected,
    effect: 'The file was not read',
    remedy: 'Export a table with one header row and the same number of columns in every row',
  });
}

/** The delimiter that gives most rows one same width of two or more; a single column if none does. */
function bestDelimiter(bytes: Uint8Array, where: string, from: number, line = 1) {
  let best = { delimiter: COMMA, rows: sample(bytes, COMMA, where, from, line), width: 1, score: 0 };
  if (best.rows.length === 0) refuseTable(where, 'only blank lines', 'a table');
  for (const delimiter of DELIMITERS) {
    const rows = sample(bytes, delimiter, where, from, line);
    const counts = new Map<number, number>();
    for (const { cells } of rows) {
      if (cells.length > 1) counts.set(cells.length, (counts.get(cells.length) ?? 0) + 1);
    }
    for (const [width, score] of counts) {
      const wider = score === best.score && width > best.width && delimiter === best.delimiter;
      if (score > best.score || wider) best = { delimiter, rows, width, score };
    }
  }
  return best;
}

function sample(
  bytes: Uint8Array,
  delimiter: number,
  where: string,
  from: number,
  line: number,
): SampleRow[] {
  const cursor = new RowCursor(bytes, delimiter, where, from, line);
  const rows: SampleRow[] = [];
  try {
    for (let n = cursor.next(); n >= 0 && rows.length < SAMPLE_ROWS; n = cursor.next()) {
      const cells = Array.from({ length: n }, (_, i) => ({
        start: cursor.starts[i],
        end: cursor.ends[i],
        doubled: cursor.marks[i] === DOUBLED,
      }));
      if (cells.some(({ start, end }) => end > start)) {
        const { line, offset, at, nextLine } = cursor;
        rows.push({ line, offset, end: at, endLine: nextLine, cells });
      }
    }
  } catch (error) {
    // A quote that never closes is reported by the real read, with the delimiter that fits.
    if (!(error instanceof Refusal) || rows.length === 0) throw error;
  }
  return rows;
}

function cellText(text: PlainText, { start, end, doubled }: SampleCell): string {
  const words = text.decode(text.bytes.subarray(start, end));
  return doubled ? words.replaceAll('""', '"') : words;
}

/** A comma where the delimiter is another and at least nine numbers in ten can be read with it. */
function decimalMark(bytes: Uint8Array, rows: readonly SampleRow[], delimiter: number): number {
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

type KindOf = (cell: SampleCell) => 'blank' | 'number' | 'text';

/** Columns of numbers below the given row: their share of numbers among known cells is 95 % or more. */
function numberColumns(rows: readonly SampleRow[], kindOf: KindOf): number[] {
  const width = rows[0]?.cells.length ?? 0;
  return Array.from({ length: width }, (_, column) => column).filter((column) => {
    const kinds = rows.map((row) => kindOf(row.cells[column])).filter((kind) => kind !== 'blank');
    return kinds.length > 0 && kinds.filter((kind) => kind === 'number').length >= 0.95 * kinds.length;
  });
}

/** A word over a column of numbers makes a header; so does a row of words where nothing is a number. */
function isHeader(body: readonly SampleRow[], kindOf: KindOf): boolean {
  const kinds = body[0].cells.map(kindOf);
  if (body.length === 1) return kinds.every((kind) => kind !== 'number');
  // The row below may hold units, so the columns are judged without it where there is more.
  const numbers = numberColumns(body.slice(body.length > 2 ? 2 : 1), kindOf);
  if (numbers.length === 0) return kinds.every((kind) => kind !== 'number');
  return numbers.some((column) => kinds[column] === 'text');
}

/** Words, and no numbers, in the row under the header, with numbers in at least half of the columns below. */
function isUnitsRow(rows: readonly SampleRow[], kindOf: KindOf): boolean {
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

function sameNames(words: readonly string[], columns: readonly string[]): boolean {
  return words.every((word, index) => columnKey(word) === columnKey(columns[index]));
}

/**
 * Columns with numbers whose every comma has three digits after it and may part thousands, each with an example; and a number of another column that only a
 * decimal comma explains, null without one. Degrees are never in thousands.
 */
function commasOf(text: PlainText, rows: readonly SampleRow[], names: readonly string[], point: number) {
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

/** Byte where a line (from 1) begins; quotes are not minded. */
function lineStart(bytes: Uint8Array, line: number, where: string): number {
  let at = 0;
  for (let n = 1; n < line && at < bytes.length; n++) {
    while (at < bytes.length && bytes[at] !== 10 && bytes[at] !== 13) at++;
    at += bytes[at] === 13 && bytes[at + 1] === 10 ? 2 : 1;
  }
  if (at >= bytes.length) refuseTable(where, `no line ${line}`, 'the header in it, as stated');
  return at;
}
