import { cholesky, inverseByCholesky } from '../math/cholesky.ts';
import { yieldAt } from '../response/curve.ts';
import type { FamilyId } from '../response/family.ts';
import { slopesOf } from '../response/fit/figure-slopes.ts';
import { curveAway, FIGURES } from '../response/fit/figures.ts';
import type { LeastSquaresFit } from '../response/fit/profile.ts';

/**
 * A curve of figures that are not sure as one fitted to its own yields at as many stands (1000 plants/ac), these with the covariance that follows from that of the figures. Yields are what plots tell, so their errors are
 * nearly those of a plane where those of figures are not (stable parameters: Ross 1990, Nonlinear Estimation): for a quadratic wholly so, whatever the stands. Null where the yields do not tell the figures.
 */
export function yieldsAtStands(
  family: FamilyId,
  own: Pick<LeastSquaresFit, 'figures' | 'covariance' | 'fitted'>,
  stands: readonly number[],
): LeastSquaresFit | null {
  const { figures, covariance, fitted } = own;
  const k = fitted.length;
  const yieldsOf = (at: Float64Array) => stands.map((p) => yieldAt(curveAway(family, at, 0), p));
  const slopesAt = (at: Float64Array) =>
    stands.map((p) => slopesOf({ ...own, figures: at }, (moved) => yieldAt(curveAway(family, moved, 0), p)));
  const known = yieldsOf(figures);
  const slopes = slopesAt(figures);
  const spread = new Float64Array(k * k);
  for (let a = 0; a < k; a++)
    for (let b = 0; b <= a; b++)
      for (const i of fitted)
        for (const j of fitted)
          spread[a * k + b] += slopes[a][i] * covariance[i * FIGURES + j] * slopes[b][j];
  if (!cholesky(spread, k)) return null;
  const weight = inverseByCholesky(spread, k);
  const normalAt = (at: Float64Array, normal: Float64Array) => {
    const there = yieldsOf(at);
    const moving = slopesAt(at);
    // The columns, the residuals as the last.
    const column = (c: number, p: number) => (c < k ? moving[p][fitted[c]] : known[p] - there[p]);
    for (let a = 0; a <= k; a++)
      for (let b = 0; b <= a; b++) {
        let sum = 0;
        for (let p = 0; p < k; p++)
          for (let q = 0; q < k; q++) sum += column(a, p) * weight[p * k + q] * column(b, q);
        normal[a * (k + 1) + b] = sum;
      }
    return Number.isFinite(normal[normal.length - 1]);
  };
  return { figures, covariance, fitted, active: fitted, normalAt, variance: 1 };
}
