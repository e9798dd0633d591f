import { factorise, inverseOfSquare } from './qr.ts';
import { type Search, search } from './shape-search.ts';
import { type SeparableProblem, slopes, type Work, workOn } from './variable-projection.ts';

export interface SeparableFit {
  readonly linear: Float64Array;
  readonly nonlinear: Float64Array;
  /** Residual sum of squares and its degrees of freedom: rows less the figures the data tell. */
  readonly rss: number;
  readonly df: number;
  readonly residuals: Float64Array;
  /** (JᵀJ)⁻¹ of all figures, coefficients first, row by row: times rss / df their covariance. NaN for a figure the data do not tell. */
  readonly unscaled: Float64Array;
  /** False where the shape did not come to rest: steps ran out, or slopes lead nowhere. At a bound, or at the kink of a shape of one figure, it is at rest. */
  readonly converged: boolean;
  readonly steps: number;
}

/**
 * Variable projection (Golub & Pereyra 1973, SIAM Journal on Numerical Analysis 10:413) with Kaufman's Jacobian (1975, BIT 15:49): for any shape the best coefficients follow by
 * least squares, so only the shape is searched for, by Levenberg's and Marquardt's steps (Moré 1978). Deterministic; the best of all starts, which are tried in turn. Shapes of which the
 * columns are not numbers are never entered; where no start gives numbers every figure is NaN.
 */
export function fitSeparable(problem: SeparableProblem): SeparableFit {
  const state = workOn(problem);
  let best: Search | null = null;
  for (const start of problem.starts) {
    const found = search(problem, state, Float64Array.from(start));
    if (found && (best === null || found.rss < best.rss)) best = found;
  }
  return best === null ? unknown(problem, state) : finish(problem, state, best);
}

/** The covariance of all figures, from the whole Jacobian. */
function finish(problem: SeparableProblem, work: Work, found: Search): SeparableFit {
  const { n, shape, columns } = work;
  const all = columns.length + shape;
  const moving = shape === 0 ? new Float64Array(0) : slopes(problem, work, found);
  problem.basis(found.nonlinear, columns);
  const matrix = new Float64Array(n * all);
  for (const [k, column] of columns.entries()) matrix.set(column, k * n);
  if (moving) matrix.set(moving, columns.length * n);
  const qr = factorise(matrix, n, all);
  const { linear, nonlinear, rss, residuals, converged, steps } = found;
  return {
    ...{ linear, nonlinear, rss, residuals, converged, steps },
    df: n - qr.rank,
    unscaled: inverseOfSquare(qr),
  };
}

function unknown(problem: SeparableProblem, { n, shape }: Work): SeparableFit {
  const nothing = (length: number) => new Float64Array(length).fill(NaN);
  const all = problem.linear + shape;
  return {
    linear: nothing(problem.linear),
    nonlinear: nothing(shape),
    rss: NaN,
    df: NaN,
    residuals: nothing(n),
    unscaled: nothing(all * all),
    converged: false,
    steps: 0,
  };
}
