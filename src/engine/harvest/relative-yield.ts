import type { Surface } from '../grid/field-grid.ts';
import { spreadOf } from '../math/weighted.ts';

export interface YearsTogether {
  /** Mean over years of yield relative to that year's field mean; 1 is the field's own level. NaN where no year is known. */
  readonly relative: Surface;
  /** Years known, by cell. */
  readonly years: Uint8Array;
}

/**
 * Make years and crops comparable: each surface over its own area-weighted mean, then the plain mean over the years known in the cell
 * (Blackmore 2000, Computers and Electronics in Agriculture 26, spatial trend).
 */
export function relativeYield(surfaces: readonly Surface[], area: Float64Array): YearsTogether {
  const relative = new Float64Array(area.length);
  const years = new Uint8Array(area.length);
  for (const surface of surfaces) {
    const { mean } = spreadOf(surface, area);
    for (let cell = 0; cell < area.length; cell++) {
      if (Number.isNaN(surface[cell])) continue;
      relative[cell] += surface[cell] / mean;
      years[cell]++;
    }
  }
  for (let cell = 0; cell < area.length; cell++)
    relative[cell] = years[cell] ? relative[cell] / years[cell] : NaN;
  return { relative, years };
}
