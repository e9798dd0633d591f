import { cholesky, inverseByCholesky, solveByCholesky } from '../math/cholesky.ts';
import { FIGURES, STAND } from '../response/fit/figures.ts';
import { type OwnFigures, type ProductGroup, shrinkToGroup, weightOf } from './shrink-to-group.ts';

/** Products with a curve of their own it takes to say what products of a crop are like. Our own choice. */
export const FEWEST_PRODUCTS = 4;
const MOST_ROUNDS = 200;
/** The spreads are at rest where none moves by more than this share. */
const AT_REST = 1e-4;

/**
 * Mean and spread of the figures of products from their whole covariances, by the EM algorithm (Dempster, Laird & Rubin 1977, Journal of the Royal Statistical Society B 39:1), restricted: what the mean
 * costs is counted in the spread. A product that was not fitted for a figure says nothing of it. Null with fewer than four products.
 */
export function productGroup(members: readonly OwnFigures[]): ProductGroup | null {
  const of = (k: number) => members.filter(({ fitted }) => fitted.includes(k));
  const shared = Array.from({ length: FIGURES }, (_, k) => k).filter((k) => of(k).length >= FEWEST_PRODUCTS);
  if (!shared.includes(STAND)) return null;
  let between = new Float64Array(FIGURES * FIGURES);
  for (const k of shared) {
    const own = of(k).map(({ figures }) => figures[k]);
    const mean = own.reduce((sum, value) => sum + value, 0) / own.length;
    between[k * FIGURES + k] = own.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (own.length - 1);
  }
  let group = meanOf(members, shared, between);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const next = spreadOf(members, group);
    const moved = shared.some((k) => {
      const at = k * FIGURES + k;
      return Math.abs(next[at] - between[at]) > AT_REST * between[at];
    });
    between = next;
    group = meanOf(members, shared, between);
    if (!moved) break;
  }
  return group;
}

/** The mean by generalised least squares. */
function meanOf(
  members: readonly OwnFigures[],
  shared: readonly number[],
  between: Float64Array,
): ProductGroup {
  const n = shared.length;
  const information = new Float64Array(n * n);
  const right = new Float64Array(n);
  for (const member of members) {
    const seen = shared.filter((k) => member.fitted.includes(k));
    const weight = weightOf(member, seen, between);
    for (let a = 0; a < n; a++)
      for (let b = 0; b < n; b++) {
        const own = weight[shared[a] * FIGURES + shared[b]];
        if (own === 0) continue;
        information[a * n + b] += own;
        right[a] += own * member.figures[shared[b]];
      }
  }
  const mean = new Float64Array(FIGURES).fill(NaN);
  const meanCovariance = new Float64Array(FIGURES * FIGURES);
  if (cholesky(information, n)) {
    solveByCholesky(information, n, right);
    const inverse = inverseByCholesky(information, n);
    for (let a = 0; a < n; a++) {
      mean[shared[a]] = right[a];
      for (let b = 0; b < n; b++) meanCovariance[shared[a] * FIGURES + shared[b]] = inverse[a * n + b];
    }
  }
  return { products: members.length, shared, mean, meanCovariance, between };
}

function spreadOf(members: readonly OwnFigures[], group: ProductGroup): Float64Array<ArrayBuffer> {
  const next = new Float64Array(FIGURES * FIGURES);
  const { shared, mean } = group;
  for (const member of members) {
    const { figures, covariance } = shrinkToGroup(member, group);
    for (const a of shared)
      for (const b of shared) {
        const apart = (figures[a] - mean[a]) * (figures[b] - mean[b]);
        next[a * FIGURES + b] += (covariance[a * FIGURES + b] + apart) / members.length;
      }
  }
  return next;
}
