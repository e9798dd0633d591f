import { cholesky, solveByCholesky } from '../math/cholesky.ts';
import { FIGURES, STAND } from '../response/fit/figures.ts';

/** The figures of one product as its own plots have them. */
export interface OwnFigures {
  /** Which of the five were fitted. */
  readonly fitted: readonly number[];
  readonly figures: ArrayLike<number>;
  /** 5 × 5. */
  readonly covariance: ArrayLike<number>;
}

/** What products of a crop are like, one family for all. */
export interface ProductGroup {
  readonly products: number;
  /** Figures enough products were fitted for; the others stay as they are. */
  readonly shared: readonly number[];
  /** Mean of the five figures (NaN where not shared), and the covariance of that mean: how sure the group is of itself. */
  readonly mean: Float64Array;
  readonly meanCovariance: Float64Array;
  /** Covariance between products, 5 × 5. */
  readonly between: Float64Array;
}

export interface Shrunk {
  readonly figures: Float64Array;
  readonly covariance: Float64Array;
  /** Share of the stand that is the group's, 0–1. */
  readonly leaning: number;
}

/**
 * A product's figures drawn towards its group, the more the less its own plots tell: empirical Bayes (Efron & Morris 1975, Journal of the American Statistical Association 70:311) over whole
 * covariances. How sure the group is of its mean is counted, how sure it is of its spread is not. Figures the group does not share stay as they are.
 */
export function shrinkToGroup(own: OwnFigures, group: ProductGroup): Shrunk {
  const { shared } = group;
  const weight = new Float64Array(FIGURES * FIGURES);
  const seen = shared.filter((k) => own.fitted.includes(k));
  weigh(own.covariance, seen, group.between, weight, new Float64Array(FIGURES * FIGURES));
  const figures = Float64Array.from(own.figures);
  const covariance = new Float64Array(FIGURES * FIGURES);
  const gain = drawTowards(own.figures, seen, weight, group, figures, covariance);
  const rest = new Float64Array(FIGURES * FIGURES);
  for (const a of shared)
    for (const b of shared) rest[a * FIGURES + b] = (a === b ? 1 : 0) - gain[a * FIGURES + b];
  addSandwich(rest, group.meanCovariance, shared, covariance);
  // What is not shared keeps its own spread; how it goes along with what is shared is no longer known.
  for (const a of own.fitted)
    for (const b of own.fitted)
      if (!shared.includes(a) && !shared.includes(b))
        covariance[a * FIGURES + b] = own.covariance[a * FIGURES + b];
  const kept = seen.includes(STAND) ? gain[STAND * FIGURES + STAND] : 0;
  return { figures, covariance, leaning: Math.min(1, Math.max(0, 1 - kept)) };
}

/** (Ω + V)⁻¹ over the figures that are seen, in their places among the five; nothing where it cannot be had. `room` is to work in. */
export function weigh(
  covariance: ArrayLike<number>,
  seen: readonly number[],
  between: Float64Array,
  weight: Float64Array,
  room: Float64Array,
): void {
  const n = seen.length;
  for (let a = 0; a < n; a++)
    for (let b = 0; b <= a; b++) {
      const at = seen[a] * FIGURES + seen[b];
      room[a * n + b] = between[at] + covariance[at];
    }
  if (!cholesky(room, n)) return;
  const column = new Float64Array(n);
  for (let b = 0; b < n; b++) {
    column.fill(0);
    column[b] = 1;
    solveByCholesky(room, n, column);
    for (let a = 0; a < n; a++) weight[seen[a] * FIGURES + seen[b]] = column[a];
  }
}

/** Writes the drawn figures and their covariance were the mean known, (I − G)·Ω, and gives the gain G = Ω·weight, all in the places of the five. */
function drawTowards(
  own: ArrayLike<number>,
  seen: readonly number[],
  weight: Float64Array,
  { shared, mean, between }: ProductGroup,
  figures: Float64Array,
  covariance: Float64Array,
): Float64Array {
  const gain = product(between, weight, shared, seen);
  const lost = product(gain, between, shared, seen, shared);
  for (let a = 0; a < shared.length; a++) {
    const k = shared[a] * FIGURES;
    let sum = mean[shared[a]];
    for (let b = 0; b < seen.length; b++) sum += gain[k + seen[b]] * (own[seen[b]] - mean[seen[b]]);
    figures[shared[a]] = sum;
    for (let b = 0; b < shared.length; b++)
      covariance[k + shared[b]] = between[k + shared[b]] - lost[k + shared[b]];
  }
  return gain;
}

/** Adds M·V·Mᵀ over the shared figures, V being symmetric. */
export function addSandwich(
  m: Float64Array,
  v: Float64Array,
  shared: readonly number[],
  into: Float64Array,
): void {
  const n = shared.length;
  const half = new Float64Array(n);
  for (let a = 0; a < n; a++) {
    const row = shared[a] * FIGURES;
    for (let c = 0; c < n; c++) {
      let own = 0;
      for (let d = 0; d < n; d++) own += m[row + shared[d]] * v[shared[d] * FIGURES + shared[c]];
      half[c] = own;
    }
    for (let b = 0; b <= a; b++) {
      let own = 0;
      for (let c = 0; c < n; c++) own += half[c] * m[shared[b] * FIGURES + shared[c]];
      into[row + shared[b]] += own;
      if (b < a) into[shared[b] * FIGURES + shared[a]] += own;
    }
  }
}

/** Product of two 5 × 5 matrices over some rows and columns, those of `between` alone counting in between. */
function product(
  one: Float64Array,
  other: Float64Array,
  rows: readonly number[],
  between: readonly number[],
  columns: readonly number[] = between,
): Float64Array {
  const out = new Float64Array(FIGURES * FIGURES);
  for (let a = 0; a < rows.length; a++)
    for (let b = 0; b < columns.length; b++) {
      let sum = 0;
      for (let c = 0; c < between.length; c++)
        sum += one[rows[a] * FIGURES + between[c]] * other[between[c] * FIGURES + columns[b]];
      out[rows[a] * FIGURES + columns[b]] = sum;
    }
  return out;
}
