import type { Issue } from '../issue.ts';
import { type AverageProduct, averageProduct } from './average-product.ts';
import type { TrialTable } from './trial-table.ts';

const AT_STAND = {
  count: ' at a good stand',
  'show no effect': ' at the stands there, of which no effect is shown',
  alike: '',
} as const;

export interface SiteEnvironments {
  /** By site of the table, bu/ac: as told, worked out where not told; NaN for a site without a plot of the crop. */
  readonly environment_buPerAc: Float64Array;
  readonly told: number;
  readonly workedOut: number;
  /** What was done, in sentences. */
  readonly said: readonly string[];
  readonly issues: readonly Issue[];
}

/**
 * The yield environment of every site a crop was tried at: told, or what the average product of the trials would yield there at a good stand. Where some sites are told, the others are moved by
 * the mean difference at those.
 */
export function siteEnvironments(
  table: TrialTable,
  crop: string,
  average: AverageProduct = averageProduct(table, crop),
): SiteEnvironments {
  const { groups, yield_buPerAc: worked, stands } = average;
  const present = [...groups.of.keys()].filter((j) => groups.of[j] >= 0);
  const environment = worked.map((own, j) => (Number.isNaN(own) ? NaN : table.sites[j].environment_buPerAc));
  const untold = present.filter((j) => Number.isNaN(environment[j]));
  const told = present.length - untold.length;
  if (untold.length === 0) {
    const said =
      told > 0
        ? [
            told === 1
              ? `The environment of the one ${crop} site is as told.`
              : `The environments of all ${told} ${crop} sites are as told.`,
          ]
        : [];
    return { environment_buPerAc: environment, told, workedOut: 0, said, issues: [] };
  }
  const issues: Issue[] = [];
  for (let g = 0; g < groups.groups; g++) {
    const own = present.filter((j) => groups.of[j] === g);
    const known = own.filter((j) => !Number.isNaN(environment[j]));
    let shift = 0;
    for (const j of known) shift += (environment[j] - worked[j]) / known.length;
    for (const j of own) if (Number.isNaN(environment[j])) environment[j] = worked[j] + shift;
    if (groups.groups > 1 && known.length === 0) issues.push(notConnected(table, own, present.length, crop));
  }
  return {
    environment_buPerAc: environment,
    told,
    workedOut: untold.length,
    said: [
      `${whose(untold.length, present.length, crop)} worked out from the yields there: what the average product would yield${AT_STAND[stands]}.`,
    ],
    issues,
  };
}

function whose(untold: number, all: number, crop: string): string {
  if (all === 1) return `The environment of the one ${crop} site is`;
  if (untold === all) return `The environments of all ${all} ${crop} sites are`;
  return untold === 1
    ? `The environment of 1 of ${all} ${crop} sites is`
    : `The environments of ${untold} of ${all} ${crop} sites are`;
}

function notConnected({ sites }: TrialTable, own: readonly number[], all: number, crop: string): Issue {
  const some = own.slice(0, 3).map((j) => sites[j].name || 'one without a name');
  const names = own.length > 3 ? [...some, `${own.length - 3} more`] : some;
  return {
    code: 'trials-not-connected',
    severity: 'warning',
    where: `${crop} trials`,
    found: `${own.length} of ${all} sites ${own.length === 1 ? 'shares' : 'share'} no product with the others (${names.join(', ')})`,
    expected: 'sites joined by common products, or environments that are told',
    effect:
      'Their environments are worked out among themselves, as if their products were as good as the others',
    remedy: 'Tell the environments of these sites, or add a trial that joins them',
  };
}
