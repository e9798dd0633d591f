import { Refusal } from '../engine/issue.ts';
import { type TrialOptions, UNIT_ROLES, type UnitRole } from '../formats/trials/trial-options.ts';
import { TRIAL_ROLES, type TrialRole } from '../formats/trials/trial-role.ts';

/** What the command line can say of a trial table. */
export interface TrialWords {
  readonly column?: readonly string[];
  readonly unit?: readonly string[];
  readonly crop?: string;
  readonly product?: string;
  readonly emergence?: number;
  readonly wet?: boolean;
  readonly dry?: boolean;
  readonly across?: NonNullable<TrialOptions['across']>;
  readonly codes?: readonly string[];
  readonly blanks?: readonly string[];
}

/** `--column yield=GY` and `--unit yield=t/ha` as options of the reader; `--column stand=` says that there is none. Refuses roles there are none of. */
export function trialOptions({
  column = [],
  unit = [],
  crop,
  product,
  emergence,
  wet,
  dry,
  across,
  codes = [],
  blanks = [],
}: TrialWords): TrialOptions {
  return {
    columns: Object.fromEntries(
      column.map((word) => {
        const [role, name] = pair(word, '--column', TRIAL_ROLES);
        return [role, name === '' ? null : name];
      }),
    ) as Partial<Record<TrialRole, string | null>>,
    units: Object.fromEntries(unit.map((word) => pair(word, '--unit', UNIT_ROLES))) as Partial<
      Record<UnitRole, string>
    >,
    ...(across === undefined ? {} : { across }),
    ...(codes.length > 0 ? { codes: byColumn(codes, '--codes', ['not known', 'figures'] as const) } : {}),
    ...(blanks.length > 0
      ? { blanks: byColumn(blanks, '--blanks', ['as above', 'not known'] as const) }
      : {}),
    ...(crop === undefined ? {} : { crop }),
    ...(product === undefined ? {} : { product }),
    ...(emergence === undefined ? {} : { emergence }),
    ...(wet ? { basis: 'wet' as const } : dry ? { basis: 'dry' as const } : {}),
  };
}

/** `Yield=not known`: what is said of a column, by its name, which may hold an =. */
function byColumn<T extends string>(
  words: readonly string[],
  option: string,
  values: readonly T[],
): Record<string, T> {
  return Object.fromEntries(
    words.map((word) => {
      const cut = word.lastIndexOf('=');
      const value = values.find((own) => own === word.slice(cut + 1).trim());
      if (cut >= 1 && value) return [word.slice(0, cut).trim(), value];
      return refuse(
        `${option} ${word}`,
        cut < 1 ? 'no column' : `'${word.slice(cut + 1)}'`,
        `COLUMN=${values.join(' or COLUMN=')}`,
      );
    }),
  );
}

function pair(word: string, option: string, roles: readonly string[]): readonly [string, string] {
  const cut = word.indexOf('=');
  const role = word.slice(0, Math.max(0, cut)).trim();
  if (roles.includes(role)) return [role, word.slice(cut + 1).trim()];
  return refuse(
    `${option} ${word}`,
    cut < 0 ? 'no =' : `a role ${role}`,
    `ROLE=NAME, the role one of ${roles.join(', ')}`,
  );
}

function refuse(where: string, found: string, expected: string): never {
  throw new Refusal({
    ...{ code: 'trial-option', where, found, expected },
    effect: 'The trials were not read',
    remedy: 'Correct what was stated',
  });
}
