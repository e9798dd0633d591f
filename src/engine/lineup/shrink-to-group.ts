import { cholesky, inverseByCholesky } from '../math/cholesky.ts';
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
  /** Mean of the five figures, and the covariance of that mean: how sure the group is of itself. */
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
  const { shared, mean, between, meanCovariance } = group;
  const seen = shared.filter((k) => own.fitted.includes(k));
  const weight = weightOf(own, seen, between);
  const gain = new Float64Array(FIGURES * FIGURES);
  const rest = new Float64Array(FIGURES * FIGURES);
  for (const k of shared) {
    for (const j of seen)
      for (const i of seen) gain[k * FIGURES + j] += between[k * FIGURES + i] * weight[i * FIGURES + j];
    for (const j of shared) rest[k * FIGURES + j] = (j === k ? 1 : 0) - gain[k * FIGURES + j];
  }
  const figures = Float64Array.from(own.figures);
  const covariance = new Float64Array(FIGURES * FIGURES);
  for (const k of shared) {
    figures[k] = mean[k];
    for (const j of seen) figures[k] += gain[k * FIGURES + j] * (own.figures[j] - mean[j]);
  }
  // (I − G)·Ω + (I − G)·Var(mean)·(I − G)ᵀ
  const half = new Float64Array(FIGURES * FIGURES);
  for (const a of shared)
    for (const b of shared)
      for (const c of shared)
        half[a * FIGURES + b] += rest[a * FIGURES + c] * meanCovariance[c * FIGURES + b];
  for (const a of shared)
    for (const b of shared) {
      let sum = 0;
      for (const c of shared)
        sum +=
          rest[a * FIGURES + c] * between[c * FIGURES + b] + half[a * FIGURES + c] * rest[b * FIGURES + c];
      covariance[a * FIGURES + b] = sum;
    }
  // What is not shared keeps its own spread; how it goes along with what is shared is no longer known.
  for (const a of own.fitted)
    for (const b of own.fitted)
      if (!shared.includes(a) && !shared.includes(b))
        covariance[a * FIGURES + b] = own.covariance[a * FIGURES + b];
  const kept = seen.includes(STAND) ? gain[STAND * FIGURES + STAND] : 0;
  return { figures, covariance, leaning: Math.min(1, Math.max(0, 1 - kept)) };
}

/** (Ω + V)⁻¹ over the figures that are seen, in their places among the five. */
export function weightOf(
  { covariance }: OwnFigures,
  seen: readonly number[],
  between: Float64Array,
): Float64Array {
  const n = seen.length;
  const own = new Float64Array(n * n);
  for (let a = 0; a < n; a++)
    for (let b = 0; b < n; b++) {
      const at = seen[a] * FIGURES + seen[b];
      own[a * n + b] = between[at] + covariance[at];
    }
  const whole = new Float64Array(FIGURES * FIGURES);
  if (!cholesky(own, n)) return whole;
  const inverse = inverseByCholesky(own, n);
  for (let a = 0; a < n; a++)
    for (let b = 0; b < n; b++) whole[seen[a] * FIGURES + seen[b]] = inverse[a * n + b];
  return whole;
}
