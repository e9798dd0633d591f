import { factorise, inverseOfSquare, type Qr, rotate, rotateBack, solve } from './qr.ts';

export interface LeastSquares {
  /** By column; NaN for a column that follows from the others. */
  readonly coefficients: Float64Array;
  readonly rank: number;
  /** Residual sum of squares, and the degrees of freedom it has. */
  readonly rss: number;
  readonly df: number;
  /** (AᵀA)⁻¹, row by row: times rss / df it is the covariance of the coefficients. */
  readonly unscaled: Float64Array;
  readonly residuals: Float64Array;
  readonly qr: Qr;
}

/** Ordinary least squares of y on the columns, by Householder QR with scaled and pivoted columns. Weights are the caller's: multiply both sides by their roots. */
export function leastSquares(columns: readonly Float64Array[], y: Float64Array): LeastSquares {
  const n = y.length;
  const a = new Float64Array(n * columns.length);
  for (const [k, column] of columns.entries()) a.set(column, k * n);
  const qr = factorise(a, n, columns.length);
  const rotated = y.slice();
  rotate(qr, rotated);
  const coefficients = solve(qr, rotated);
  let rss = 0;
  for (let i = qr.rank; i < n; i++) rss += rotated[i] * rotated[i];
  rotated.fill(0, 0, qr.rank);
  rotateBack(qr, rotated);
  return {
    coefficients,
    rank: qr.rank,
    rss,
    df: n - qr.rank,
    unscaled: inverseOfSquare(qr),
    residuals: rotated,
    qr,
  };
}

/** Leverage of every row: the diagonal of A(AᵀA)⁻¹Aᵀ. */
export function leverages({ qr }: Pick<LeastSquares, 'qr'>): Float64Array {
  const found = new Float64Array(qr.rows);
  const unit = new Float64Array(qr.rows);
  for (let k = 0; k < qr.rank; k++) {
    unit.fill(0);
    unit[k] = 1;
    rotateBack(qr, unit);
    for (let i = 0; i < unit.length; i++) found[i] += unit[i] * unit[i];
  }
  return found;
}
