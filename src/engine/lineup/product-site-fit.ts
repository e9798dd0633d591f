import { cholesky, solveByCholesky } from '../math/cholesky.ts';
import type { Placed, TrialGroups } from './trial-groups.ts';

/** What is fitted, all by row of `placed`; `rows` are those that count. */
export interface ProductSiteData {
  readonly placed: Placed;
  readonly rows: readonly number[];
  readonly groups: TrialGroups;
  readonly y: ArrayLike<number>;
  readonly weight?: ArrayLike<number>;
  readonly columns?: readonly ArrayLike<number>[];
}

export interface ProductSiteFit {
  /** By product and by site; NaN without a row. The first site of a group is 0, so that products are what they yield there, and columns at 0. */
  readonly product: Float64Array;
  readonly site: Float64Array;
  readonly columns: Float64Array;
  /** What is left, in the order of `rows`; its weighted sum of squares, and the degrees of freedom that has. */
  readonly residuals: Float64Array;
  readonly rss: number;
  readonly df: number;
  /** Variance of a product of a group less the mean of some products of it, where a row of weight 1 has a variance of 1. */
  readonly varianceFrom: (mean: ReadonlySet<number>) => (product: number) => number;
}

/**
 * Least squares of y = product + site + columns, which does not ask every product to be everywhere. Products are taken out of the normal equations first, so that only sites and columns are
 * solved for. Null where the rows do not tell the columns apart from the rest.
 */
export function fitProductsAndSites(data: ProductSiteData): ProductSiteFit | null {
  const { placed, rows, y, weight, columns = [] } = data;
  const { place, free } = placesOf(data);
  const size = free + columns.length;
  const width = size + 1;
  const normal = new Float64Array(size * size);
  const right = new Float64Array(size);
  // Sums of the columns and of the yields by product, to be taken out.
  const sums = new Float64Array(placed.products.length * width);
  const weights = new Float64Array(placed.products.length);
  const own = new Float64Array(columns.length);
  for (const i of rows) {
    const w = weight ? weight[i] : 1;
    const at = place[placed.site[i]];
    const base = placed.product[i] * width;
    for (let a = 0; a < columns.length; a++) own[a] = columns[a][i];
    weights[placed.product[i]] += w;
    sums[base + size] += w * y[i];
    if (at >= 0) {
      normal[at * size + at] += w;
      right[at] += w * y[i];
      sums[base + at] += w;
    }
    for (let a = 0; a < columns.length; a++) {
      const row = free + a;
      if (at >= 0) normal[row * size + at] += w * own[a];
      for (let b = 0; b <= a; b++) normal[row * size + free + b] += w * own[a] * own[b];
      right[row] += w * own[a] * y[i];
      sums[base + row] += w * own[a];
    }
  }
  for (let p = 0; p < weights.length; p++) {
    if (weights[p] === 0) continue;
    const base = p * width;
    for (let a = 0; a < size; a++) {
      const share = sums[base + a] / weights[p];
      if (share === 0) continue;
      right[a] -= share * sums[base + size];
      for (let b = 0; b <= a; b++) normal[a * size + b] -= share * sums[base + b];
    }
  }
  if (!cholesky(normal, size)) return null;
  solveByCholesky(normal, size, right);
  const product = weights.map((total, p) => {
    let sum = sums[p * width + size];
    for (let a = 0; a < size; a++) sum -= sums[p * width + a] * right[a];
    return total > 0 ? sum / total : NaN;
  });
  const site = Float64Array.from(place, (at, j) => (at >= 0 ? right[at] : data.groups.of[j] < 0 ? NaN : 0));
  const ofColumns = right.slice(free);
  const residuals = new Float64Array(rows.length);
  let rss = 0;
  for (const [k, i] of rows.entries()) {
    let left = y[i] - product[placed.product[i]] - site[placed.site[i]];
    for (let a = 0; a < columns.length; a++) left -= ofColumns[a] * columns[a][i];
    residuals[k] = left;
    rss += (weight ? weight[i] : 1) * left * left;
  }
  return {
    product,
    site,
    columns: ofColumns,
    residuals,
    rss,
    df: rows.length - weights.filter((total) => total > 0).length - size,
    varianceFrom: (mean) => {
      const share = 1 / mean.size;
      const ofMean = new Float64Array(size);
      let own = 0;
      for (const p of mean) {
        own += share ** 2 / weights[p];
        for (let a = 0; a < size; a++) ofMean[a] += (share * sums[p * width + a]) / weights[p];
      }
      return (p) => {
        const away = ofMean.map((there, a) => sums[p * width + a] / weights[p] - there);
        const solved = away.slice();
        solveByCholesky(normal, size, solved);
        // A product of the mean is in both.
        let variance = own + (1 - (mean.has(p) ? 2 * share : 0)) / weights[p];
        for (let a = 0; a < size; a++) variance += away[a] * solved[a];
        return variance;
      };
    },
  };
}

/** The column of each site, −1 for the first of a group, which the others are measured against, and for one without a row. */
function placesOf({ groups }: ProductSiteData): { place: Int32Array; free: number } {
  const first = new Set<number>();
  let free = 0;
  const place = groups.of.map((group) => {
    if (group < 0) return -1;
    if (first.has(group)) return free++;
    first.add(group);
    return -1;
  });
  return { place, free };
}
