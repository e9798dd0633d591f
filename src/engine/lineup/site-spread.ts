import { fitProductsAndSites, type ProductSiteFit } from './product-site-fit.ts';
import type { Placed, TrialGroups } from './trial-groups.ts';
import type { TrialTable } from './trial-table.ts';

/** A step of the variance smaller than this share of it changes no figure anybody reads. */
const SETTLED = 1e-10;
const MOST_STEPS = 100;

/** A product at a site: the mean of its plots there. */
export interface Cells {
  readonly placed: Placed;
  /** All of them, in the order of products, then of sites. */
  readonly rows: readonly number[];
  readonly mean_buPerAc: Float64Array;
  readonly plots: Float64Array;
  /** Mean square of plots around the mean of their cell; NaN where no cell has two. */
  readonly plotSquare: number;
}

export function cellsOf(table: TrialTable, rows: readonly number[]): Cells {
  const width = table.sites.length;
  const own = new Map<number, number[]>();
  for (const i of rows) {
    const key = table.product[i] * width + table.site[i];
    const plots = own.get(key);
    if (plots) plots.push(table.yield_buPerAc[i]);
    else own.set(key, [table.yield_buPerAc[i]]);
  }
  const cells = [...own].sort(([a], [b]) => a - b);
  const mean = Float64Array.from(cells, ([, plots]) => plots.reduce((sum, y) => sum + y, 0) / plots.length);
  let squares = 0;
  for (const [k, [, plots]] of cells.entries()) for (const y of plots) squares += (y - mean[k]) ** 2;
  return {
    placed: {
      products: table.products,
      sites: table.sites,
      product: Uint32Array.from(cells, ([key]) => Math.floor(key / width)),
      site: Uint32Array.from(cells, ([key]) => key % width),
    },
    rows: [...cells.keys()],
    mean_buPerAc: mean,
    plots: Float64Array.from(cells, ([, plots]) => plots.length),
    plotSquare: rows.length > cells.length ? squares / (rows.length - cells.length) : NaN,
  };
}

export interface CellSpread {
  /** Least squares by the inverse variances of the cells, and what the variances it tells have to be multiplied by; NaN where no spread can be told. */
  readonly fit: ProductSiteFit;
  readonly scale: number;
  /** Roots of `between` and `within`, bu/ac. */
  readonly betweenSites_buPerAc: number;
  readonly withinSite_buPerAc: number;
}

/**
 * How cells vary beside product and site: variance between + within / plots, `within` from the plots, `between` so that the weighted squares left are as many as their degrees of freedom (Paule &
 * Mandel 1982, Journal of Research of the National Bureau of Standards 87:377), or nothing where plots alone account for more. Where all cells have as many plots, the sum of both is the residual
 * mean square of the cells. Without repetition every cell counts alike, and all that varies is put between.
 */
export function spreadOfCells(cells: Cells, groups: TrialGroups): CellSpread {
  const { placed, rows, mean_buPerAc, plots, plotSquare: within } = cells;
  // Without columns there is always an answer.
  const fitted = (weight: Float64Array) =>
    fitProductsAndSites({ placed, rows, groups, y: mean_buPerAc, weight })!;
  if (!(within > 0)) {
    const fit = fitted(new Float64Array(rows.length).fill(1));
    const square = fit.df > 0 ? fit.rss / fit.df : NaN;
    return { fit, scale: square, betweenSites_buPerAc: Math.sqrt(square), withinSite_buPerAc: within };
  }
  let between = 0;
  for (let step = 1; ; step++) {
    const weight = plots.map((n) => 1 / (between + within / n));
    const fit = fitted(weight);
    // The squares left fall with `between`, the slower the more it is: Newton's steps from 0 never pass the answer.
    let slope = 0;
    for (const [k, left] of fit.residuals.entries()) slope += (weight[k] * left) ** 2;
    const more = fit.df > 0 ? (fit.rss - fit.df) / slope : NaN;
    if (!(more > SETTLED * (between + within)) || step === MOST_STEPS)
      return {
        fit,
        scale: fit.df > 0 ? 1 : NaN,
        betweenSites_buPerAc: fit.df > 0 ? Math.sqrt(between) : NaN,
        withinSite_buPerAc: Math.sqrt(within),
      };
    between += more;
  }
}
