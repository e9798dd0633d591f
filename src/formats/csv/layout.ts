import type { Issue } from '../../engine/issue.ts';
import type { ReadOptions } from '../format.ts';
import type { PlainText } from '../text/decode.ts';
import { cellKind } from './cell.ts';
import { commasOf, decimalMark } from './decimal-mark.ts';
import { isHeader, isUnitsRow, sameNames } from './header-row.ts';
import {
  decimalCommaIssue,
  noHeaderIssue,
  preambleIssue,
  surveyNamesIssue,
  unitsRowIssue,
} from './layout-issues.ts';
import {
  bestDelimiter,
  cellText,
  lineStart,
  refuseTable,
  type SampleCell,
  type SampleRow,
} from './sample-rows.ts';
import { isSurveyHeader, surveyTable } from './survey-tables.ts';

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

const DELIMITER_NAMES: Record<number, string> = { 59: 'semicolon', 9: 'tab', 124: 'bar', 44: 'comma' };
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
