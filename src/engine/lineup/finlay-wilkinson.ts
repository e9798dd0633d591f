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
  /** Told from elsewhere: none of these yields is in it. */
  | { readonly of: 'what was told'; readonly environments: ArrayLike<number> };

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
  /** Bushels more for a bushel more of environment; 1 follows the average product. */
  readonly slope: Estimate;
  /** How far its line lies over the environment itself on tough and on good ground, bu/ac: the lead over the average product. */
  readonly leadOnTough: Estimate;
  readonly leadOnGood: Estimate;
  /** Mean square of its sites around its line (Eberhart & Russell 1966: the deviation mean square, the less the steadier), and its root in bu/ac. NaN under three sites. */
  readonly deviationMeanSquare: number;
  readonly deviationSd_buPerAc: number;
  readonly df: number;
}

export interface GroundAnswers {
  readonly index: GroundIndex['of'];
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
 * means (all its plots at a site, whatever their stand) on the index of the site, yields as they are, not logarithms. With the classical
 * index a slope is against the average of these very products, whose slopes average 1 in a full table; what is chance in the index
 * draws slopes a little towards 1. The index of the others leaves a product's own share out, but what is chance in it then draws slopes towards 0: with two or three
 * products its intervals are too narrow, so the classical one is the usual choice.
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
    return answerOf(product, sites, own, { tough_buPerAc, mean_buPerAc, good_buPerAc, level });
  });
  return {
    index: index.of,
    level,
    tough_buPerAc,
    mean_buPerAc,
    good_buPerAc,
    sites: ground.length,
    products,
  };
}

function answerOf(
  product: number,
  means: ReadonlyMap<number, number>,
  environments: ArrayLike<number>,
  ground: Pick<GroundAnswers, 'tough_buPerAc' | 'mean_buPerAc' | 'good_buPerAc' | 'level'>,
): GroundAnswer {
  const known = [...means].filter(([site]) => !Number.isNaN(environments[site]));
  const at = Float64Array.from(known, ([site]) => environments[site]);
  const away = at.map((environment) => environment - ground.mean_buPerAc);
  const y = Float64Array.from(known, ([, yielded]) => yielded);
  const fit = leastSquares([new Float64Array(y.length).fill(1), away], y);
  const { df, rss, unscaled } = fit;
  // A line needs sites of more than one environment.
  const [atMean, slope] = fit.rank === 2 ? fit.coefficients : [NaN, NaN];
  const meanSquare = df > 0 ? rss / df : NaN;
  // The line, or its lead over the environment itself, `d` bushels from the mean ground.
  const along = (value: number, d: number) => {
    const variance = meanSquare * (unscaled[0] + 2 * d * unscaled[1] + d * d * unscaled[3]);
    return estimate(value, Math.sqrt(Math.max(0, variance)), df, ground.level);
  };
  const lead = (environment: number) =>
    along(
      atMean + slope * (environment - ground.mean_buPerAc) - environment,
      environment - ground.mean_buPerAc,
    );
  at.sort();
  return {
    product,
    sites: known.length,
    sitesLeftOut: means.size - known.length,
    least_buPerAc: at.length > 0 ? at[0] : NaN,
    most_buPerAc: at.length > 0 ? at[at.length - 1] : NaN,
    level: along(atMean, 0),
    slope: estimate(slope, Math.sqrt(meanSquare * unscaled[3]), df, ground.level),
    leadOnTough: lead(ground.tough_buPerAc),
    leadOnGood: lead(ground.good_buPerAc),
    deviationMeanSquare: fit.rank === 2 ? meanSquare : NaN,
    deviationSd_buPerAc: fit.rank === 2 ? Math.sqrt(meanSquare) : NaN,
    df,
  };
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
