import type { MoistureBasis } from '../../engine/harvest/moisture-basis.ts';
import { Refusal } from '../../engine/issue.ts';
import type { Column } from '../../engine/layers/source.ts';
import type { ReadOptions } from '../format.ts';
import { NUMBER_ROLES, TRIAL_ROLES, type TrialRole } from './trial-role.ts';

/** Roles that have a unit a person may state. */
export const UNIT_ROLES = ['yield', 'stand', 'rate', 'environment'] as const satisfies readonly TrialRole[];
export type UnitRole = (typeof UNIT_ROLES)[number];

/** What a table may have a column of yields for each of. */
export type Across = 'stand' | 'rate' | 'year' | 'site' | 'product' | 'rep';

/** What a person has said of a trial table; all of it goes before what the file says. */
export interface TrialOptions extends Pick<ReadOptions, 'encoding' | 'commas' | 'headerLine'> {
  /** Columns by role; null: there is none. */
  readonly columns?: Readonly<Partial<Record<TrialRole, string | null>>>;
  readonly units?: Readonly<Partial<Record<UnitRole, string>>>;
  /** Of all rows that no crop column tells. */
  readonly crop?: string;
  /** Of all rows, where no column tells the product. */
  readonly product?: string;
  /** Plants a seed, 0–1, where only seeding rates are told. */
  readonly emergence?: number;
  /** What columns side by side stand for, one each; none: they are columns like others. */
  readonly across?: Across | 'none';
  /** By column: whether a figure that stands in many rows and looks like a code is one. */
  readonly codes?: Readonly<Record<string, 'not known' | 'figures'>>;
  /** By column: whether a blank cell says what the cell above it says. */
  readonly blanks?: Readonly<Record<string, 'as above' | 'not known'>>;
  /** Whether yields are dry or as harvested, where the file does not say. */
  readonly basis?: MoistureBasis;
}

/** Refuses an option that is none. */
export function checkOptions(options: TrialOptions, columns: readonly Column[], where: string): void {
  const names = columns.map(({ name }) => name);
  for (const role of TRIAL_ROLES) {
    const name = options.columns?.[role];
    if (name === null || name === undefined) continue;
    const column = columns.find((own) => own.name === name);
    if (!column)
      refuse(where, `no column '${name}' for the ${role}`, `one of ${names.slice(0, 30).join(', ')}`);
    if (column.kind === 'text' && NUMBER_ROLES.includes(role))
      refuse(where, `column '${name}' for the ${role}, which holds texts`, 'a column of numbers');
  }
  const { emergence } = options;
  if (emergence !== undefined && !(emergence > 0 && emergence <= 1))
    refuse(where, `emergence ${emergence}`, 'a share of the seeds over 0 and at most 1, as 0.95');
}

function refuse(where: string, found: string, expected: string): never {
  throw new Refusal({
    code: 'trial-option',
    where,
    found,
    expected,
    effect: 'The trials were not read',
    remedy: 'Correct what was stated',
  });
}
