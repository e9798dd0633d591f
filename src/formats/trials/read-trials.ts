import { type Issue, Refusal } from '../../engine/issue.ts';
import type { SourceLedger } from '../../engine/layers/source.ts';
import type { TrialTable } from '../../engine/lineup/trial-table.ts';
import type { FileBytes } from '../file-bytes.ts';
import { asideIssues } from './aside-issues.ts';
import { cropsOfRows } from './crops-of-rows.ts';
import { filledDown } from './fill-down.ts';
import { meltedSheet } from './melt-sheet.ts';
import { withoutCodes } from './missing-codes.ts';
import { standsOverArea } from './stand-along-row.ts';
import { figuresOfPlots, summaryRows } from './summary-rows.ts';
import { basisOfTable } from './trial-basis.ts';
import { chooseTrialColumns, type TrialColumns } from './trial-columns.ts';
import { trialIssue } from './trial-issue.ts';
import { plotIssues, questionIssue, unusedIssues } from './trial-issues.ts';
import { checkOptions, type TrialOptions } from './trial-options.ts';
import { readPlots } from './trial-plots.ts';
import { TRIAL_ROLES, type TrialQuestion, type TrialReading, type TrialRole } from './trial-role.ts';
import { readSheet, type TrialSheet } from './trial-sheet.ts';
import { emergenceOf, standIssues } from './trial-stand-issues.ts';
import { settleTrialUnits, type TrialUnits } from './trial-units.ts';
import { roleNamed } from './trial-words.ts';

export interface TrialsRead {
  readonly table: TrialTable;
  readonly issues: readonly Issue[];
  /** Rows: read = used + set aside. */
  readonly ledger: SourceLedger;
  /** Names of all columns, in the table's order. */
  readonly columns: readonly string[];
  /** Roles for which there is a column, whether it is needed or not. */
  readonly roles: readonly TrialRole[];
  /** What the columns were taken for. */
  readonly readings: readonly TrialReading[];
  /** What a person could settle otherwise; the options are the answers. */
  readonly questions: readonly TrialQuestion[];
}

/**
 * A trial table, one row a plot: delimited text, or a JSON array of rows. Stands come out in plants/ac and yields in bu/ac, dry where the file tells. Throws a
 * Refusal for what is no such table, and where crop or unit cannot be told.
 */
export function readTrials(file: FileBytes, options: TrialOptions = {}): TrialsRead {
  const asWritten = readSheet(file, options);
  if (asWritten.records === 0) refuseNoRows(asWritten);
  const sheet = meltedSheet(filledDown(asWritten, options), options);
  checkOptions(options, sheet.columns, sheet.file);
  const { chosen, questions: ofColumns } = chooseTrialColumns(sheet.columns, options);
  const sited = withSites(chosen);
  const summaries = summaryRows(sheet, sited);
  const coded = withoutCodes(figuresOfPlots(sited, summaries), sheet, options);
  const columns = standsOverArea(coded.columns, sheet.columns);
  if (columns.yield?.column.kind !== 'number') refuseYield(sheet, columns);
  const crops = cropsOfRows(sheet, columns.crop, options);
  const units = settleTrialUnits(columns, crops, options, sheet.file);
  const { basis, ...ofBasis } = basisOfTable(columns, crops, options, sheet.file);
  const product = options.product?.trim() || baseName(sheet.file);
  const emergence = (crop: string) => emergenceOf(crop, options);
  const read = readPlots(sheet, { columns, units, crops, product, emergence, basis, summaries });
  const readings = readingsOf(columns, units);
  const questions = [
    ...sheet.questions,
    ...ofColumns,
    ...coded.questions,
    ...units.questions,
    ...ofBasis.questions,
  ];
  const setAside: Record<string, number> = { ...sheet.setAside };
  for (const [reason, { count }] of read.aside) setAside[reason] = count;
  const broken = Object.values(sheet.setAside).reduce((sum, n) => sum + n, 0);
  return {
    table: read.table,
    issues: [
      ...sheet.issues,
      ...questions.map((question) => questionIssue(question, sheet.file)),
      ...(columns.product || options.product ? [] : [oneProduct(sheet.file, product)]),
      ...standIssues(columns, units, crops, options, sheet.file),
      ...coded.issues,
      ...ofBasis.issues,
      ...unusedIssues(sheet, readings),
      ...asideIssues(read, sheet, crops),
      ...plotIssues(read, sheet, units.rate !== null || (units.stand !== null && units.stand.unit !== '%')),
    ],
    ledger: { read: sheet.records + broken, used: read.table.product.length, repaired: 0, setAside },
    columns: sheet.columns.map(({ name }) => name),
    roles: TRIAL_ROLES.filter((role) => columns[role] !== undefined),
    readings,
    questions,
  };
}

/** Environments by number are sites where there are no others and they are called no more than that. */
function withSites(columns: TrialColumns): TrialColumns {
  const { environment, site, trial, ...others } = columns;
  if (!environment || site || trial || !/^env(ironment)?$/i.test(environment.column.name.trim()))
    return columns;
  return { ...others, site: environment };
}

function readingsOf(columns: TrialColumns, units: TrialUnits): TrialReading[] {
  const unused = {
    stand: columns.stand && !units.stand,
    rate: columns.rate && !units.rate,
    environment: columns.environment && !units.environment,
  };
  return TRIAL_ROLES.flatMap((role): TrialReading[] => {
    const own = columns[role];
    if (!own || (role in unused && unused[role as keyof typeof unused])) return [];
    const choice =
      role === 'yield' || role === 'stand' || role === 'rate' || role === 'environment' ? units[role] : null;
    return [
      {
        role,
        column: own.column.name,
        unit: choice?.unit ?? '',
        confidence: Math.min(own.confidence, choice?.confidence ?? 1),
        because: choice ? `${own.because}; ${choice.because}` : own.because,
      },
    ];
  });
}

function refuseNoRows({ file, columns }: TrialSheet): never {
  const names = columns.map(({ name }) => name);
  throw new Refusal({
    code: 'trial-no-rows',
    where: file,
    found: `a row of names (${names.slice(0, 8).join(', ')}${names.length > 8 ? ', …' : ''}) and nothing under it`,
    expected: 'one row for each plot',
    effect: 'There are no trials to read',
    remedy: 'Export the rows with their names',
  });
}

function refuseYield({ file, columns: all }: TrialSheet, { yield: own }: TrialColumns): never {
  const words = own?.column ?? all.find(({ name }) => roleNamed(name)?.role === 'yield');
  const names = all.map(({ name }) => name);
  throw new Refusal({
    code: 'trial-no-yield',
    where: file,
    found: words
      ? `fewer figures than words in column ${words.name}`
      : `columns ${names.slice(0, 20).join(', ')}${names.length > 20 ? ', …' : ''}`,
    expected: 'a column of yields',
    effect: 'The trials were not read',
    remedy: words
      ? 'Write yields as figures, and leave blank what is not known'
      : 'Name the column of yields yield, with its unit, or state which it is (command line: --column yield=NAME)',
  });
}

function oneProduct(file: string, product: string): Issue {
  return trialIssue(
    'warning',
    'trial-one-product',
    file,
    'no column of products',
    'a column product',
    `All plots are taken as one product, ${product}`,
    'State the product, or which column tells it',
  );
}

function baseName(file: string): string {
  const base = file.slice(Math.max(file.lastIndexOf('/'), file.lastIndexOf('\\')) + 1);
  return base.replace(/\.[^.]*$/, '') || file;
}

/** The names of the columns alone, where the trials themselves cannot be read yet. Throws a Refusal for what is no table. */
export function trialColumnNames(file: FileBytes, options: TrialOptions = {}): string[] {
  return readSheet(file, options).columns.map(({ name }) => name);
}

/** The names a person may have meant by a column: those of the table, and those it has when yields that stand side by side are under one another. Throws a Refusal for what is no table. */
export function columnsToName(file: FileBytes, options: TrialOptions): string[] {
  const sheet = readSheet(file, options);
  const melted = sheet.records > 0 ? meltedSheet(filledDown(sheet, options), options) : sheet;
  return [...new Set([...sheet.columns, ...melted.columns].map(({ name }) => name))];
}
