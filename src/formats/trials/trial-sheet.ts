import { type Issue, issueText, Refusal } from '../../engine/issue.ts';
import type { Column } from '../../engine/layers/source.ts';
import { csvLayout } from '../csv/layout.ts';
import { preambleIssue, unitsRowIssue } from '../csv/layout-issues.ts';
import { findPositions } from '../csv/positions.ts';
import { readCsv } from '../csv/read.ts';
import { forEachRowText } from '../csv/row-texts.ts';
import { refuseTable } from '../csv/sample-rows.ts';
import type { FileBytes } from '../file-bytes.ts';
import type { ReadOptions } from '../format.ts';
import { plainText } from '../text/decode.ts';
import { commaQuestion } from './comma-question.ts';
import { figureCells } from './figure-cells.ts';
import { figureIssues, writtenIssue } from './figure-issues.ts';
import { isJson, jsonAsCsv } from './json-rows.ts';
import { textsOf } from './sheet-texts.ts';
import { trialHeaderLine } from './trial-header-line.ts';
import type { TrialOptions } from './trial-options.ts';
import { NUMBER_ROLES, type TrialQuestion } from './trial-role.ts';
import { roleNamed } from './trial-words.ts';
import { type UnitsRow, unitsRowOf } from './units-row.ts';

/** The rows of a trial table before anybody asked what they mean. */
export interface TrialSheet {
  readonly file: string;
  readonly columns: readonly Column[];
  readonly records: number;
  /** Line of the file, or row of the array, by record. */
  readonly lines: Int32Array;
  readonly place: 'line' | 'row';
  /** Cells of a column as written, by record; '' where blank. */
  readonly texts: (column: Column) => readonly string[];
  /** The same of a column of figures, whose numbers may be written otherwise. */
  readonly figureTexts: (column: Column) => readonly string[];
  /** Rows that are no rows of the table, by reason. */
  readonly setAside: Readonly<Record<string, number>>;
  readonly issues: readonly Issue[];
  readonly questions: readonly TrialQuestion[];
}

/** Throws a Refusal for what is no table. */
export function readSheet(bytes: FileBytes, options: TrialOptions): TrialSheet {
  refuseBlank(bytes, options);
  const json = isJson(bytes);
  const whole = json ? jsonAsCsv(bytes, options.encoding) : bytes;
  const given = json ? { headerLine: 1 } : readOptions(options);
  const header = given.headerLine === undefined ? trialHeaderLine(whole, options.encoding) : null;
  const how = header === null ? given : { ...given, headerLine: header };
  const unitsRow = json ? null : lookForUnits(whole, how);
  const file = unitsRow?.without ?? whole;
  const first = readCsv(file, how);
  const open = first.issues
    .filter(({ code }) => code === 'csv-thousands-or-decimals')
    .flatMap(({ where }) => first.columns.find(({ name }) => where === `${file.name} › ${name}`) ?? [])
    .filter(({ name, kind }) => kind === 'text' && isFigure(name, options));
  const ofCommas = open.map(({ name }) => commaQuestion(name));
  const commas = Object.fromEntries(
    ofCommas.map(({ column, proposed }) => [
      column,
      proposed === 0 ? ('thousands' as const) : ('decimals' as const),
    ]),
  );
  const source = open.length > 0 ? readCsv(file, { ...how, commas: { ...how.commas, ...commas } }) : first;
  const text = plainText(file.bytes, options.encoding);
  const layout = csvLayout(text, file.name, how);
  const lines = new Int32Array(source.records);
  let record = 0;
  forEachRowText(text, layout, file.name, (line) => {
    lines[record++] = json ? line - 1 : line;
  });
  // Trials are not placed on the ground: what the reader says of positions is of no matter here.
  const ofPlaces = new Set(
    findPositions(source.columns, source.records, file.name, {}).issues.map(issueText),
  );
  const { 'ragged-row': ragged = 0, 'malformed-quote': malformed = 0 } = source.ledger.setAside;
  const texts = textsOf(source.columns, source.records, text, layout, file.name);
  const notNumbers = new Set(
    source.issues.flatMap(({ code, where }) => (code === 'csv-not-a-number' ? [where] : [])),
  );
  const cells = source.columns.map((column) => {
    const odd = column.kind === 'text' || notNumbers.has(`${file.name} › ${column.name}`);
    return odd && isFigure(column.name, options)
      ? figureCells(column, texts(column), roleNamed(column.name)?.role)
      : null;
  });
  const read = source.columns.map((column, k) => cells[k]?.column ?? column);
  const written = cells.flatMap((own) => (own && own.written.length > 0 ? [own.column.name] : []));
  const place = json ? 'row' : 'line';
  const ofFigures = cells.flatMap((own, k) =>
    own ? figureIssues(file.name, own, texts(source.columns[k]), lines, place) : [],
  );
  const withWords = new Set(
    source.columns.flatMap(({ name }, k) =>
      notNumbers.has(`${file.name} › ${name}`) || cells[k] ? [name] : [],
    ),
  );
  const columns = unitsRow ? withUnits(read, unitsRow.units) : read;
  const names = columns.map(({ name }) => name);
  const ofUnits = unitsRow ? [unitsRowIssue(file.name, names, unitsRow.units)] : [];
  const again = new Set(cells.flatMap((own) => (own ? [`${file.name} › ${own.column.name}`] : [])));
  const ofReader = source.issues.filter(
    (issue) =>
      !ofPlaces.has(issueText(issue)) &&
      issue.code !== 'empty-layer' &&
      !(issue.code === 'csv-not-a-number' && again.has(issue.where)),
  );
  return {
    file: file.name,
    columns,
    records: source.records,
    lines,
    place,
    texts,
    figureTexts: (column) =>
      column.kind === 'number' && !withWords.has(column.name)
        ? Array.from(column.values, (own) => (Number.isNaN(own) ? '' : String(own)))
        : texts(column),
    setAside: {
      ...(ragged > 0 ? { 'ragged-row': ragged } : {}),
      ...(malformed > 0 ? { 'malformed-quote': malformed } : {}),
    },
    issues: [
      ...(header !== null && header > 1 ? [preambleIssue(file.name, header)] : []),
      ...ofUnits,
      ...ofReader,
      ...(written.length > 0 ? [writtenIssue(file.name, written)] : []),
      ...ofFigures,
    ],
    questions: ofCommas,
  };
}

/** Columns in place of those of a sheet, with their cells as text where those are new; another column keeps its own. */
export function withColumns(
  sheet: TrialSheet,
  columns: readonly { readonly column: Column; readonly texts?: readonly string[] }[],
): TrialSheet {
  const own = new Map(columns.map(({ column, texts }) => [column.name, texts]));
  return {
    ...sheet,
    columns: columns.map(({ column }) => column),
    texts: (column) => own.get(column.name) ?? sheet.texts(column),
    figureTexts: (column) => own.get(column.name) ?? sheet.figureTexts(column),
  };
}

function refuseBlank({ name, bytes }: FileBytes, { encoding }: TrialOptions): void {
  if (plainText(bytes, encoding).bytes.some((byte) => byte > 32)) return;
  refuseTable(name, 'only blank lines', 'a table');
}

/** Null also where the file is no table, which its reader says better. */
function lookForUnits(file: FileBytes, how: ReadOptions): UnitsRow | null {
  const text = plainText(file.bytes, how.encoding);
  try {
    return unitsRowOf(text, csvLayout(text, file.name, how), file);
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}

function withUnits(columns: readonly Column[], units: readonly string[]): Column[] {
  return columns.map((column, k) =>
    column.kind === 'number' && units[k] !== '' ? { ...column, unit: units[k] } : column,
  );
}

function readOptions({ encoding, commas, headerLine }: TrialOptions): ReadOptions {
  return {
    ...(encoding === undefined ? {} : { encoding }),
    ...(commas === undefined ? {} : { commas }),
    ...(headerLine === undefined ? {} : { headerLine }),
  };
}

/** Whether a column is read as figures, whatever its cells, since it is called or stated so. */
export function isFigure(name: string, options: TrialOptions): boolean {
  const role = roleNamed(name)?.role;
  return (
    (role !== undefined && NUMBER_ROLES.includes(role)) ||
    NUMBER_ROLES.some((own) => options.columns?.[own] === name)
  );
}
