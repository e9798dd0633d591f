import { Refusal } from '../engine/issue.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import { columnsToName } from '../formats/trials/read-trials.ts';
import type { TrialOptions } from '../formats/trials/trial-options.ts';

/**
 * What was said of several trial tables at once, table by table: words about a column are for those that have it. Refuses a column that none has. In the order of the tables; throws a Refusal for what is no table.
 */
export function wordsOfFiles(
  tables: readonly FileBytes[],
  options: TrialOptions,
  where: string,
): TrialOptions[] {
  const { columns = {}, codes = {}, blanks = {} } = options;
  const named = [
    ...Object.entries(columns).flatMap(([role, name]) =>
      name === null || name === undefined ? [] : [[name, `the ${role}`] as const],
    ),
    ...Object.keys(codes).map((name) => [name, 'its codes'] as const),
    ...Object.keys(blanks).map((name) => [name, 'its blanks'] as const),
  ];
  if (named.length === 0) return tables.map(() => options);
  // What a column is said to be is said of one that is there: the names are had without it.
  const { columns: _, ...others } = options;
  const names = tables.map((file) => new Set(columnsToName(file, others)));
  for (const [name, use] of named)
    if (!names.some((own) => own.has(name))) refuseColumn(where, names, name, use);
  return names.map((own) => ({
    ...options,
    columns: filtered(columns, (_role, name) => name === null || name === undefined || own.has(name)),
    codes: filtered(codes, (name) => own.has(name)),
    blanks: filtered(blanks, (name) => own.has(name)),
  }));
}

function filtered<T>(
  words: Readonly<Record<string, T>>,
  keep: (key: string, value: T) => boolean,
): Record<string, T> {
  return Object.fromEntries(Object.entries(words).filter(([key, value]) => keep(key, value)));
}

function refuseColumn(
  where: string,
  names: readonly ReadonlySet<string>[],
  name: string,
  use: string,
): never {
  const all = [...new Set(names.flatMap((own) => [...own]))];
  throw new Refusal({
    code: 'trial-option',
    where,
    found: `no column '${name}' for ${use}`,
    expected:
      all.length > 0 ? `one of ${all.slice(0, 30).join(', ')}` : 'a trial table: a lineup has no columns',
    effect: 'The trials were not read',
    remedy: 'Correct what was stated',
  });
}

/** Refuses a unit that was stated for what no file has a column of. */
export function refuseIdleUnits(
  roles: ReadonlySet<string>,
  { units = {} }: TrialOptions,
  where: string,
): void {
  for (const [role, unit] of Object.entries(units))
    if (!roles.has(role))
      throw new Refusal({
        code: 'trial-option',
        where,
        found: `a unit ${unit} for the ${role}, of which there is no column`,
        expected:
          roles.size > 0
            ? `a unit of what has a column: ${[...roles].join(', ')}`
            : 'a trial table: a lineup has its units',
        effect: 'The trials were not read',
        remedy: `Leave it out, or state which column tells the ${role} (command line: --column ${role}=NAME)`,
      });
}
