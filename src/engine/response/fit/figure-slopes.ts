import type { FamilyFit } from './family-fit.ts';
import { FIGURES } from './figures.ts';

/** Slopes are taken over this share of a figure's own standard error. */
const SHARE = 1e-3;

/** Slopes of anything that follows from the figures by each of those that were fitted, by central differences; 0 by the others. */
export function slopesOf(
  { fitted, covariance, figures }: Pick<FamilyFit, 'fitted' | 'covariance' | 'figures'>,
  of: (figures: Float64Array) => number,
): Float64Array {
  const slopes = new Float64Array(FIGURES);
  const moved = Float64Array.from(figures);
  for (const k of fitted) {
    const reach = SHARE * Math.sqrt(covariance[k * FIGURES + k]);
    if (!(reach > 0)) continue;
    moved[k] = figures[k] + reach;
    const high = of(moved);
    moved[k] = figures[k] - reach;
    slopes[k] = (high - of(moved)) / (2 * reach);
    moved[k] = figures[k];
  }
  return slopes;
}
