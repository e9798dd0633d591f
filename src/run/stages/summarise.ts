import type { Surface } from '../../engine/grid/field-grid.ts';
import { spreadOf } from '../../engine/math/weighted.ts';
import type { SurfaceSummary } from '../results.ts';

/** Area-weighted figures of a surface over the field. */
export function summarise(surface: Surface, area: Float64Array): SurfaceSummary {
  const spread = spreadOf(surface, area);
  const total = area.reduce((sum, value) => sum + value, 0);
  return {
    known: spread.known,
    knownShare: spread.weight / total,
    mean: spread.mean,
    sd: spread.sd,
    min: spread.min,
    max: spread.max,
  };
}
