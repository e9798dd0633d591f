import { type Issue, Refusal } from '../../engine/issue.ts';
import type { SourceLedger } from '../../engine/layers/source.ts';
import type { TrialTable } from '../../engine/lineup/trial-table.ts';
import type { FileBytes } from '../file-bytes.ts';
import { cropsOfRows } from './crops-of-rows.ts';
import { basisOfTable } from './trial-basis.ts';
import { chooseTrialColumns, type TrialColumns } from './trial-columns.ts';
import { asideIssues, plotIssues, questionIssue, trialIssue, unusedIssues } from './trial-issues.ts';
import { checkOptions, type TrialOptions } from './trial-options.ts';
import { readPlots } from './trial-plots.ts';
import { TRIAL_ROLES, type TrialQuestion, type TrialReading } from './trial-role.ts';
import { readSheet, type TrialSheet } from './trial-sheet.ts';
import { emergenceOf, standIssues } from './trial-stand-issues.ts';
import { settleTrialUnits, type TrialUnits } from './trial-units.ts';
import { refuseProductsAcross, refuseWide } from './wide-table.ts';

export interface TrialsRead {
  readonly table: TrialTable;
  readonly issues: readonly Issue[];
  /** Rows: read = used + set aside. */
  readonly ledger: SourceLedger;
  /** Names of all columns, in the table's order. */
  readonly columns: readonly string[];
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
  const sheet = readSheet(file, options);
  checkOptions(options, sheet.columns, sheet.file);
  if (options.columns?.yield === undefined) refuseWide(sheet.columns, sheet.file);
  const { chosen, questions: ofColumns } = chooseTrialColumns(sheet.columns, options);
  const columns = withSites(chosen);
  if (columns.yield?.column.kind !== 'number') refuseYield(sheet, columns);
  const crops = cropsOfRows(sheet, columns.crop, options);
  const units = settleTrialUnits(columns, crops, options, sheet.file);
  const { basis, issues: ofBasis } = basisOfTable(columns, crops, options, sheet.file);
  const product = options.product?.trim() || baseName(sheet.file);
  const emergence = (crop: string) => emergenceOf(crop, options);
  const read = readPlots(sheet, { columns, units, crops, product, emergence, basis });
  const readings = readingsOf(columns, units);
  const questions = [...sheet.questions, ...ofColumns, ...units.questions];
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
      ...ofBasis,
      ...unusedIssues(sheet, readings),
      ...asideIssues(read, sheet),
      ...plotIssues(read, sheet, units.rate !== null || (units.stand !== null && units.stand.unit !== '%')),
    ],
    ledger: { read: sheet.records + broken, used: read.table.product.length, repaired: 0, setAside },
    columns: sheet.columns.map(({ name }) => name),
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

function refuseYield({ file, columns: all }: TrialSheet, { yield: own }: TrialColumns): never {
  if (!own) refuseProductsAcross(all, file);
  const names = all.map(({ name }) => name);
  throw new Refusal({
    code: 'trial-no-yield',
    where: file,
    found: own
      ? `no numbers in column ${own.column.name}`
      : `columns ${names.slice(0, 20).join(', ')}${names.length > 20 ? ', …' : ''}`,
    expected: 'a column of yields',
    effect: 'The trials were not read',
    remedy: 'Name the column of yields yield, with its unit, or state which it is',
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
