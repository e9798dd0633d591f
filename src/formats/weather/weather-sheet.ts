import { type Issue, Refusal } from '../../engine/issue.ts';
import { asideIssue } from '../csv/aside-issue.ts';
import { csvLayout } from '../csv/layout.ts';
import { forEachRowText } from '../csv/row-texts.ts';
import type { FileBytes } from '../file-bytes.ts';
import { foreignIssue } from '../foreign.ts';
import { plainText } from '../text/decode.ts';
import { firstZero } from '../text/scan.ts';
import { type WeatherRole, weatherRole } from './weather-role.ts';

export interface WeatherRow {
  readonly line: number;
  /** By column, without blanks at its ends; '' where it says that there is nothing. */
  readonly cells: readonly string[];
}

/** The rows of a record of temperatures before anybody asked what they mean. */
export interface WeatherSheet {
  readonly file: string;
  readonly columns: readonly string[];
  /** What a row of units says under each; '' where nothing. */
  readonly units: readonly string[];
  readonly role: ReadonlyMap<WeatherRole, number>;
  readonly rows: readonly WeatherRow[];
  readonly setAside: Readonly<Record<string, number>>;
  readonly issues: readonly Issue[];
}

export type ColumnsSaid = Readonly<Partial<Record<WeatherRole, string>>>;

/** Throws a Refusal for what is no table, or has not both temperatures and a date. */
export function readWeatherSheet(file: FileBytes, said: ColumnsSaid): WeatherSheet {
  const foreign = foreignIssue(file);
  if (foreign) throw new Refusal({ ...foreign, expected: 'a table of temperatures as text (CSV)' });
  const text = plainText(file.bytes);
  const zero = firstZero(text.bytes);
  if (zero >= 0)
    refuse('csv-binary', `${file.name} › byte ${zero}`, 'a zero byte', 'text', 'Give a table as text');
  const layout = csvLayout(text, file.name);
  const columns = layout.names.map((name) => name.trim());
  const { role, issues: ofColumns } = rolesOf(columns, said, file.name);
  const shown = `columns ${columns.slice(0, 20).join(', ')}${columns.length > 20 ? ', …' : ''}`;
  const state = 'Name the columns date, highest and lowest, or state which they are (command line: --column)';
  if (!role.has('highest') || !role.has('lowest'))
    refuse(
      'weather-no-temperatures',
      file.name,
      shown,
      'a column of the highest and one of the lowest temperature',
      state,
    );
  if (!role.has('date') && !role.has('month') && !role.has('day of year') && !role.has('day'))
    refuse('weather-no-dates', file.name, shown, 'a column of dates, or of months', state);
  const rows: WeatherRow[] = [];
  const aside = forEachRowText(text, layout, file.name, (line, cell) => {
    rows.push({ line, cells: columns.map((_, column) => cell(column)) });
  });
  const setAside: Record<string, number> = {};
  const issues: Issue[] = [...layout.issues, ...ofColumns];
  for (const [reason, tally, expected] of [
    ['ragged-row', aside.ragged, `rows of ${columns.length} cells`],
    ['malformed-quote', aside.malformed, 'nothing between a closing quote and the next column'],
  ] as const) {
    if (tally.count === 0) continue;
    setAside[reason] = tally.count;
    issues.push(asideIssue(reason, file.name, tally, expected));
  }
  const units = layout.units ?? columns.map(() => '');
  return { file: file.name, columns, units, role, rows, setAside, issues };
}

/** As stated; else of several columns called alike the one that says it in the fewest letters, and of two temperatures that is told. */
function rolesOf(
  columns: readonly string[],
  said: ColumnsSaid,
  where: string,
): { role: Map<WeatherRole, number>; issues: Issue[] } {
  const role = new Map<WeatherRole, number>();
  const rivals = new Map<WeatherRole, string[]>();
  for (const [k, name] of columns.entries()) {
    const own = weatherRole(name);
    if (own === null) continue;
    rivals.set(own, [...(rivals.get(own) ?? []), name]);
    const before = role.get(own);
    if (before === undefined || name.length < columns[before].length) role.set(own, k);
  }
  for (const [own, name] of Object.entries(said) as [WeatherRole, string][]) {
    const at = columns.indexOf(name);
    if (at < 0)
      refuse(
        'weather-option',
        where,
        `no column '${name}' for the ${own}`,
        `one of ${columns.slice(0, 30).join(', ')}`,
        'Correct what was stated',
      );
    role.set(own, at);
  }
  const issues = (['highest', 'lowest'] as const).flatMap((own): Issue[] => {
    const all = rivals.get(own) ?? [];
    if (all.length < 2 || said[own] !== undefined) return [];
    const taken = columns[role.get(own) as number];
    return [
      {
        code: 'weather-column-assumed',
        severity: 'warning',
        where,
        found: `several columns of the ${own} temperature: ${all.slice(0, 10).join(', ')}`,
        expected: 'one',
        effect: `${taken} is taken until somebody says otherwise`,
        remedy: `State which it is (command line: --column ${own}=NAME)`,
      },
    ];
  });
  // `Day` over whole dates is a date.
  if (!role.has('date') && !role.has('month') && role.has('day')) {
    role.set('date', role.get('day') as number);
    role.delete('day');
  }
  return { role, issues };
}

function refuse(code: string, where: string, found: string, expected: string, remedy: string): never {
  throw new Refusal({ code, where, found, expected, effect: 'The temperatures were not read', remedy });
}
