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
}

/** `--column yield=GY` and `--unit yield=t/ha` as options of the reader. Refuses roles there are none of. */
export function trialOptions({
  column = [],
  unit = [],
  crop,
  product,
  emergence,
  wet,
  dry,
}: TrialWords): TrialOptions {
  return {
    columns: Object.fromEntries(column.map((word) => pair(word, '--column', TRIAL_ROLES))) as Partial<
      Record<TrialRole, string>
    >,
    units: Object.fromEntries(unit.map((word) => pair(word, '--unit', UNIT_ROLES))) as Partial<
      Record<UnitRole, string>
    >,
    ...(crop === undefined ? {} : { crop }),
    ...(product === undefined ? {} : { product }),
    ...(emergence === undefined ? {} : { emergence }),
    ...(wet ? { basis: 'wet' as const } : dry ? { basis: 'dry' as const } : {}),
  };
}

function pair(word: string, option: string, roles: readonly string[]): readonly [string, string] {
  const cut = word.indexOf('=');
  const role = word.slice(0, Math.max(0, cut)).trim();
  if (roles.includes(role)) return [role, word.slice(cut + 1).trim()];
  throw new Refusal({
    code: 'trial-option',
    where: `${option} ${word}`,
    found: cut < 0 ? 'no =' : `a role ${role}`,
    expected: `ROLE=NAME, the role one of ${roles.join(', ')}`,
    effect: 'The trials were not read',
    remedy: 'Correct what was stated',
  });
}
