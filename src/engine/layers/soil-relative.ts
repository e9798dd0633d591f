import type { Surface } from '../grid/field-grid.ts';
import { spreadOf } from '../math/weighted.ts';

/**
 * A soil surface as yield relative to the field (1 is the field's own level): a rating in bu/ac over its area-weighted mean, or an index whose
 * standard deviation is taken to be worth `spreadPerSd` of yield. The second is an assumption of the plan, not a finding.
 */
export function soilRelative(
  surface: Surface,
  area: Float64Array,
  meaning: 'yield' | 'index',
  spreadPerSd: number,
): Surface {
  const { mean, sd } = spreadOf(surface, area);
  if (meaning === 'yield') return surface.map((value) => value / mean);
  return surface.map((value) =>
    Number.isNaN(value) ? NaN : sd > 0 ? 1 + (spreadPerSd * (value - mean)) / sd : 1,
  );
}
