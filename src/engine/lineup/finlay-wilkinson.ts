import { sameCrop } from '../math/crop-name.ts';
import { leastSquares } from '../math/least-squares.ts';
import { type Estimate, estimate, USUAL_LEVEL } from './estimate.ts';
import type { TrialTable } from './trial-table.ts';

/** By what the ground of a site is measured: yield environments by site of the table, bu/ac, NaN where not known. */
export type GroundIndex =
  /** All products of the crop, the one in question among them: the classical index, to be taken unless there is a reason. */
  | { readonly of: 'all products'; readonly environments: ArrayLike<number> }
  /** For each product the others alone, so that it is not measured by itself. `environments` serve to say what ground is tough or good. */
  | {
      readonly of: 'other products';
      readonly environments: ArrayLike<number>;
      readonly without: (product: number) => ArrayLike<number>;
    }
  /** Told from elsewhere: these yields are not in it, and need not average it. `average` is what the average product yields at each site, bu/ac; `told` the sites told, where the rest had to be worked out. */
  | {
      readonly of: 'what was told';
      readonly environments: ArrayLike<number>;
      readonly average: ArrayLike<number>;
      readonly told: number;
    };

/** How one product answers to ground. */
export interface GroundAnswer {
  readonly product: number;
  /** Sites behind it, and those left out because their environment is not known. */
  readonly sites: number;
  readonly sitesLeftOut: number;
  /** Poorest and best ground it stood on, bu/ac; NaN with no site. */
  readonly least_buPerAc: number;
  readonly most_buPerAc: number;
  /** Yield on ground of the mean environment, bu/ac. */
  readonly level: Estimate;
  /** Bushels more for a bushel more of environment. */
  readonly slope: Estimate;
  /** No other product of two sites or more stood where it did: there is no average product to hold it against, and what follows is NaN. */
  readonly alone: boolean;
  /** Bushels more than the average product gains for a bushel more of environment. By an index of these yields, slope less 1. */
  readonly gain: Estimate;
  /** What it yields more than the average product on tough and on good ground, bu/ac. */
  readonly leadOnTough: Estimate;
  readonly leadOnGood: Estimate;
  /** Mean square of its sites around its line (Eberhart & Russell 1966: the deviation mean square, the less the steadier), and its root in bu/ac. NaN under three sites. */
  readonly deviationMeanSquare: number;
  readonly deviationSd_buPerAc: number;
  readonly df: number;
}

export interface GroundAnswers {
  readonly index: GroundIndex['of'];
  /** Sites whose environment was told; 0 by an index of these yields. */
  readonly told: number;
  /** Share of the intervals that hold the truth. */
  readonly level: number;
  /** Environments of the sites of the crop, bu/ac: mean of the poorest third of sites, of all, of the best third. Thirds are our own choice. */
  readonly tough_buPerAc: number;
  readonly mean_buPerAc: number;
  readonly good_buPerAc: number;
  readonly sites: number;
  readonly products: readonly GroundAnswer[];
}

/**
 * Finlay & Wilkinson 1963, Australian Journal of Agricultural Research 14:742: for each product of a crop the regression of its site
 * means (all its plots at a site, whatever their stand: bring them to the stand the index is of first) on the index of the site, yields as they are, not logarithms. With the classical
 * index a slope is against the average of these very products, whose slopes average 1 in a full table; what is chance in the index
 * draws slopes a little towards 1. The index of the others leaves a product's own share out, but what is chance in it then draws slopes towards 0: with two or three
 * products its intervals are too narrow, so the classical one is the usual choice. Against the average product stands the line of the differences from it, site by site: what all products of
 * a site share is in none of them.
 */
export function finlayWilkinson(
  table: TrialTable,
  crop: string,
  index: GroundIndex,
  level = USUAL_LEVEL,
): GroundAnswers {
  const means = siteMeans(table, crop);
  const stood = new Set([...means.values()].flatMap((sites) => [...sites.keys()]));
  const ground = Float64Array.from(stood, (site) => index.environments[site]).filter(
    (environment) => !Number.isNaN(environment),
  );
  ground.sort();
  const third = Math.max(1, Math.round(ground.length / 3));
  const tough_buPerAc = mean(ground.subarray(0, third));
  const good_buPerAc = mean(ground.subarray(ground.length - Math.min(third, ground.length)));
  const mean_buPerAc = mean(ground);
  const products = [...means].map(([product, sites]) => {
    const own = index.of === 'other products' ? index.without(product) : index.environments;
    const average = index.of === 'what was told' ? index.average : own;
    const alone = isAlone(product, means);
    const at = { own, average, tough_buPerAc, mean_buPerAc, good_buPerAc };
    return answerOf(product, sites, alone, at, level);
  });
  return {
    index: index.of,
    told: index.of === 'what was told' ? index.told : 0,
    level,
    tough_buPerAc,
    mean_buPerAc,
    good_buPerAc,
    sites: ground.length,
    products,
  };
}

interface Ground extends Pick<GroundAnswers, 'tough_buPerAc' | 'mean_buPerAc' | 'good_buPerAc'> {
  /** By site: what its ground gives, and what the average product yields there. */
  readonly own: ArrayLike<number>;
  readonly average: ArrayLike<number>;
}

function answerOf(
  product: number,
  means: ReadonlyMap<number, number>,
  alone: boolean,
  ground: Ground,
  level: number,
): GroundAnswer {
  const known = [...means].filter(([site]) => !Number.isNaN(ground.own[site]));
  const at = Float64Array.from(known, ([site]) => ground.own[site]);
  const away = at.map((environment) => environment - ground.mean_buPerAc);
  const line = lineThrough(
    away,
    Float64Array.from(known, ([, yielded]) => yielded),
    level,
  );
  const differences = known.map(([site, yielded]) => (alone ? NaN : yielded - ground.average[site]));
  const over = lineThrough(away, Float64Array.from(differences), level);
  at.sort();
  return {
    product,
    sites: known.length,
    sitesLeftOut: means.size - known.length,
    least_buPerAc: at.length > 0 ? at[0] : NaN,
    most_buPerAc: at.length > 0 ? at[at.length - 1] : NaN,
    level: line.at(0),
    slope: line.slope,
    alone,
    gain: over.slope,
    leadOnTough: over.at(ground.tough_buPerAc - ground.mean_buPerAc),
    leadOnGood: over.at(ground.good_buPerAc - ground.mean_buPerAc),
    deviationMeanSquare: line.meanSquare,
    deviationSd_buPerAc: Math.sqrt(line.meanSquare),
    df: line.df,
  };
}

/** A straight line by least squares; all NaN where x does not vary. */
function lineThrough(x: Float64Array, y: Float64Array, level: number) {
  const { rank, coefficients, df, rss, unscaled } = leastSquares([new Float64Array(x.length).fill(1), x], y);
  const [atZero, slope] = rank === 2 ? coefficients : [NaN, NaN];
  const meanSquare = rank === 2 && df > 0 ? rss / df : NaN;
  return {
    meanSquare,
    df,
    slope: estimate(slope, Math.sqrt(meanSquare * unscaled[3]), df, level),
    at: (d: number) => {
      const variance = meanSquare * (unscaled[0] + 2 * d * unscaled[1] + d * d * unscaled[3]);
      return estimate(atZero + slope * d, Math.sqrt(Math.max(0, variance)), df, level);
    },
  };
}

/** Products of one site tell nothing of the ground, and are no company. */
function isAlone(product: number, means: ReadonlyMap<number, ReadonlyMap<number, number>>): boolean {
  const mine = [...(means.get(product)?.keys() ?? [])];
  for (const [other, sites] of means)
    if (other !== product && sites.size > 1 && mine.some((site) => sites.has(site))) return false;
  return true;
}

/** Mean yield by site of every product of the crop, products and sites in the order of the table. */
function siteMeans(table: TrialTable, crop: string): Map<number, Map<number, number>> {
  const sums = new Float64Array(table.products.length * table.sites.length);
  const plots = new Uint32Array(sums.length);
  for (let i = 0; i < table.product.length; i++) {
    const cell = table.product[i] * table.sites.length + table.site[i];
    sums[cell] += table.yield_buPerAc[i];
    plots[cell]++;
  }
  const means = new Map<number, Map<number, number>>();
  for (const [product, { crop: own }] of table.products.entries()) {
    if (!sameCrop(own, crop)) continue;
    const sites = new Map<number, number>();
    for (let site = 0; site < table.sites.length; site++) {
      const cell = product * table.sites.length + site;
      if (plots[cell] > 0) sites.set(site, sums[cell] / plots[cell]);
    }
    means.set(product, sites);
  }
  return means;
}

function mean(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value;
  return values.length > 0 ? sum / values.length : NaN;
}
