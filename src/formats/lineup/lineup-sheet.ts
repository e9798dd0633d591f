import { type Issue, Refusal } from '../../engine/issue.ts';
import { asideIssue } from '../csv/aside-issue.ts';
import { csvLayout } from '../csv/layout.ts';
import { forEachRowText } from '../csv/row-texts.ts';
import type { FileBytes } from '../file-bytes.ts';
import type { ReadOptions } from '../format.ts';
import { plainText } from '../text/decode.ts';
import { firstZero } from '../text/scan.ts';
import { headerText } from '../trials/header-text.ts';
import { unguarded } from './guarded-text.ts';
import { type LineupRole, lineupRole } from './lineup-columns.ts';

export interface LineupRow {
  readonly line: number;
  /** By column: without blanks at its ends, and as written. */
  readonly cells: readonly string[];
  readonly raw: readonly string[];
}

/** The rows of a lineup before they are products. */
export interface LineupSheet {
  readonly columns: readonly string[];
  readonly role: ReadonlyMap<LineupRole, number>;
  readonly rows: readonly LineupRow[];
  /** What stands under each column in the row of scales; '' where nothing does. */
  readonly scales: readonly string[];
  readonly setAside: Readonly<Record<string, number>>;
  readonly issues: readonly Issue[];
}

const SCALES = /^(rating )?(scales?|skala|skalen|échelles?|escalas?|schaal|schalen)$/i;

/** Throws a Refusal for what is no table of products. */
export function readLineupSheet(
  file: FileBytes,
  options: Pick<ReadOptions, 'encoding' | 'headerLine'>,
): LineupSheet {
  const text = plainText(file.bytes, options.encoding);
  const zero = firstZero(text.bytes);
  if (zero >= 0) refuse(`${file.name} › byte ${zero}`, 'csv-binary', 'a zero byte', 'text');
  const layout = csvLayout(text, file.name, options);
  const columns = layout.names.map((name) => unguarded(name.trim()));
  const role = rolesOf(columns);
  const name = role.get('name');
  if (name === undefined)
    refuse(file.name, 'lineup-no-names', `columns ${columns.slice(0, 20).join(', ')}`, 'a column name');
  const rows: LineupRow[] = [];
  const aside = forEachRowText(text, layout, file.name, (line, cell, raw) => {
    const own = columns.map((_, column) => unguarded(raw(column)));
    rows.push({
      line,
      cells: own.map((words, column) => (cell(column) === '' ? '' : words.trim())),
      raw: own,
    });
  });
  const isScales = (cells: readonly string[]) =>
    SCALES.test(cells[name].trim()) &&
    [role.get('crop'), role.get('seeds')].every((column) => column === undefined || cells[column] === '');
  const ofUnits = layout.units && isScales(layout.units) ? layout.units : null;
  const scales = ofUnits ?? rows.find(({ cells }) => isScales(cells))?.cells ?? columns.map(() => '');
  const issues = layout.issues.filter(({ code }) => code !== 'csv-units-row' || !ofUnits);
  const setAside: Record<string, number> = {};
  for (const [reason, tally, expected] of [
    ['ragged-row', aside.ragged, `rows of ${columns.length} cells`],
    ['malformed-quote', aside.malformed, 'nothing between a closing quote and the next column'],
  ] as const) {
    if (tally.count === 0) continue;
    setAside[reason] = tally.count;
    issues.push(asideIssue(reason, file.name, tally, expected));
  }
  return {
    columns,
    role,
    rows: rows.filter(({ cells }) => !isScales(cells)),
    scales,
    setAside,
    issues,
  };
}

/** Of several columns called alike, the one that says it in the fewest words. */
function rolesOf(columns: readonly string[]): ReadonlyMap<LineupRole, number> {
  const role = new Map<LineupRole, number>();
  for (const [k, name] of columns.entries()) {
    const own = lineupRole(name);
    if (own === null || (own === 'price' && /_(ac|acre|ha|1000|k|lb|kg)_/.test(headerText(name)))) continue;
    const before = role.get(own);
    if (before === undefined || headerText(name).length < headerText(columns[before]).length)
      role.set(own, k);
  }
  return role;
}

function refuse(where: string, code: string, found: string, expected: string): never {
  throw new Refusal({
    code,
    where,
    found,
    expected,
    effect: 'The lineup was not read',
    remedy: 'Give a table with one product a row and a column for its name',
  });
}
