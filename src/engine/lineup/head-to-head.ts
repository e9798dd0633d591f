import { Refusal } from '../issue.ts';
import { sameCrop } from '../math/crop-name.ts';
import { type Estimate, estimate, USUAL_LEVEL } from './estimate.ts';
import { pairSites, type SitePair } from './pair-sites.ts';
import { moreSitesNeeded, NO_DIFFERENCE_BU_PER_AC } from './sites-needed.ts';
import type { TrialTable } from './trial-table.ts';

/** Fewer sites in a half of the ground say nothing. Our own choice. */
const FEWEST_IN_HALF = 3;

/** One product against another, or against the mean of several, over some sites. Differences are the one's less the other's, bu/ac. */
export interface Comparison {
  readonly sites: number;
  readonly difference: Estimate;
  /** Spread of the differences from site to site, bu/ac; NaN under two sites. */
  readonly sd_buPerAc: number;
  /** Paired t of Student; NaN under two sites. */
  readonly t: number;
  readonly df: number;
  /** Sites; a tie is a difference that rounds to nothing. */
  readonly wins: number;
  readonly losses: number;
  readonly ties: number;
  /** Poorest and best of the sites, bu/ac; NaN where no environment is known. */
  readonly least_buPerAc: number;
  readonly most_buPerAc: number;
}

export interface HeadToHead extends Comparison {
  readonly one: number;
  readonly others: readonly number[];
  /** Share of the intervals that hold the truth. */
  readonly level: number;
  readonly pairs: readonly SitePair[];
  /** How many of the others stand in some pair. Where not all are in all, the difference is from different rivals at different sites and is no standing among them (see `standingsOf`). */
  readonly othersMet: number;
  readonly moreSites: ReturnType<typeof moreSitesNeeded>;
  /** The poorer and the better half of the sites with a known environment, the middle one in neither; null where they are too few or all alike. */
  readonly halves: { readonly poorer: Comparison; readonly better: Comparison } | null;
  /** Years of the sites, first to last; sites whose year is not told. */
  readonly years: readonly number[];
  readonly sitesWithoutYear: number;
  /** Sites where both were but at no common stand, and plots of either side left out, here and where only one was. */
  readonly standsApart: number;
  readonly oneLeftOut: number;
  readonly othersLeftOut: number;
}

/**
 * Paired comparison over the sites both sides were at (Student 1908): sites are what varies, plots within one are averaged. Yields of sites of one year share its
 * weather, so the interval speaks of sites like these. `environments` by site, bu/ac, NaN where not known.
 */
export function headToHead(
  table: TrialTable,
  one: number,
  others: readonly number[],
  environments: ArrayLike<number>,
  level = USUAL_LEVEL,
): HeadToHead {
  refuseOdd(table, one, others);
  const { pairs, ...leftOut } = pairSites(table, one, others);
  const all = compare(pairs, environments, level);
  const years = new Set<number>();
  let sitesWithoutYear = 0;
  for (const { site } of pairs) {
    const { year } = table.sites[site];
    if (year === null) sitesWithoutYear++;
    else years.add(year);
  }
  return {
    ...all,
    one,
    others,
    level,
    pairs,
    moreSites: moreSitesNeeded(all.sites, all.difference.value, all.sd_buPerAc, level),
    halves: halvesOf(pairs, environments, level),
    years: [...years].sort((a, b) => a - b),
    sitesWithoutYear,
    ...leftOut,
  };
}

/** All other products of the crop of `one` that have a plot. */
export function theOthers({ products, product }: TrialTable, one: number): number[] {
  const tried = new Set(product);
  return products.flatMap(({ crop }, own) =>
    own !== one && tried.has(own) && sameCrop(crop, products[one].crop) ? [own] : [],
  );
}

function halvesOf(
  pairs: readonly SitePair[],
  environments: ArrayLike<number>,
  level: number,
): HeadToHead['halves'] {
  const known = pairs
    .filter(({ site }) => !Number.isNaN(environments[site]))
    .sort((a, b) => environments[a.site] - environments[b.site] || a.site - b.site);
  const half = known.length >> 1;
  if (half < FEWEST_IN_HALF) return null;
  const poorer = compare(known.slice(0, half), environments, level);
  const better = compare(known.slice(known.length - half), environments, level);
  return poorer.most_buPerAc < better.least_buPerAc ? { poorer, better } : null;
}

function compare(pairs: readonly SitePair[], environments: ArrayLike<number>, level: number): Comparison {
  const n = pairs.length;
  const sum = pairs.reduce((total, { difference_buPerAc: d }) => total + d, 0);
  const mean = n > 0 ? sum / n : NaN;
  const squares = pairs.reduce((total, { difference_buPerAc: d }) => total + (d - mean) ** 2, 0);
  const sd = n > 1 ? Math.sqrt(squares / (n - 1)) : NaN;
  const standardError = sd / Math.sqrt(n);
  const known = Float64Array.from(pairs, ({ site }) => environments[site]).filter((e) => !Number.isNaN(e));
  known.sort();
  const count = (holds: (d: number) => boolean) =>
    pairs.filter(({ difference_buPerAc: d }) => holds(d)).length;
  return {
    sites: n,
    difference: estimate(mean, standardError, n - 1, level),
    sd_buPerAc: sd,
    t: n > 1 ? mean / standardError : NaN,
    df: Math.max(0, n - 1),
    wins: count((d) => d >= NO_DIFFERENCE_BU_PER_AC),
    losses: count((d) => d <= -NO_DIFFERENCE_BU_PER_AC),
    ties: count((d) => Math.abs(d) < NO_DIFFERENCE_BU_PER_AC),
    least_buPerAc: known.length > 0 ? known[0] : NaN,
    most_buPerAc: known.length > 0 ? known[known.length - 1] : NaN,
  };
}

function refuseOdd({ products }: TrialTable, one: number, others: readonly number[]): void {
  const refuse = (code: string, found: string, expected: string, remedy: string) => {
    throw new Refusal({
      code,
      where: `head to head of ${products[one]?.name ?? 'a product'}`,
      found,
      expected,
      effect: 'Nothing can be compared',
      remedy,
    });
  };
  const absent = [one, ...others].find((product) => !products[product]);
  if (absent !== undefined)
    refuse('no-such-product', `product number ${absent}`, 'a product of the trials', 'Name one of them');
  if (others.length === 0)
    refuse('nothing-to-compare', 'no other product', 'another product of the crop', 'Add its trials');
  if (others.includes(one))
    refuse('product-against-itself', 'the same product on both sides', 'two products', 'Name another');
  const odd = others.find((product) => !sameCrop(products[product].crop, products[one].crop));
  if (odd !== undefined)
    refuse(
      'crops-differ',
      `${products[odd].name} is ${products[odd].crop}, ${products[one].name} is ${products[one].crop}`,
      'products of one crop',
      'Name another product of the crop',
    );
}
