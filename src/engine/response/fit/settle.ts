import { partialCholesky } from '../../math/cholesky.ts';
import { type FitWork, fillColumns } from './fit-work.ts';
import { takeMoments, weigh } from './moments.ts';

/** Where so little is left of the squares there were, rounding may have made it: what is left is counted again, once, from where the figures are then. */
const ROUNDED = 1e-7;

/** Sets the linear figures to the best for this shape. The weighted sum of squared residuals left, NaN where there is none. */
export function settle(work: FitWork, figures: Float64Array, ratio: number): number {
  const { trial, columns, linear, moments, normal } = work;
  const k = linear.length;
  const width = k + 1;
  const last = k * width;
  for (let again = false; ; again = true) {
    if (!fillColumns(work, figures, false)) return NaN;
    takeMoments(trial, columns, linear, moments);
    weigh(trial, moments, ratio, normal);
    const before = normal[last + k];
    if (!partialCholesky(normal, width, k)) return NaN;
    // From L⁻¹ times the right-hand side, which stands in the last row, back through the factor.
    for (let a = k - 1; a >= 0; a--) {
      for (let b = a + 1; b < k; b++) normal[last + a] -= normal[b * width + a] * normal[last + b];
      normal[last + a] /= normal[a * width + a];
      figures[linear[a]] += normal[last + a];
    }
    const left = normal[last + k];
    if (again || left > ROUNDED * before) return Math.max(0, left);
  }
}
