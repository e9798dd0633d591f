import { partialCholesky } from '../../math/cholesky.ts';
import { type FitWork, fillColumns } from './fit-work.ts';
import { takeMoments, weigh } from './moments.ts';

/** Sets the linear figures to the best for this shape. The weighted sum of squared residuals left, NaN where there is none. */
export function settle(work: FitWork, figures: Float64Array, ratio: number): number {
  const { trial, columns, linear, residuals, moments, normal } = work;
  if (!fillColumns(work, figures, false)) return NaN;
  takeMoments(trial, columns, linear, residuals, moments);
  weigh(trial, moments, ratio, normal);
  const k = linear.length;
  const width = k + 1;
  if (!partialCholesky(normal, width, k)) return NaN;
  // From L⁻¹ times the right-hand side, which stands in the last row, back through the factor.
  const last = k * width;
  for (let a = k - 1; a >= 0; a--) {
    for (let b = a + 1; b < k; b++) normal[last + a] -= normal[b * width + a] * normal[last + b];
    normal[last + a] /= normal[a * width + a];
    figures[linear[a]] += normal[last + a];
  }
  return Math.max(0, normal[last + k]);
}
