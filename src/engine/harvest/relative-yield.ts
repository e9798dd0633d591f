import type { Surface } from '../grid/field-grid.ts';
import { spreadOf } from '../math/weighted.ts';

export interface YearsTogether {
  /** Mean over years of yield relative to that year's level; 1 is the field's own. NaN where no year is known. */
  readonly relative: Surface;
  /** Years known, by cell. */
  readonly years: Uint8Array;
  /** By surface, in its own unit: the yield that stands for 1, what that year gave or would have given over all the known ground. */
  readonly levels: readonly number[];
}

/** A year that covers less than this share of the known ground is levelled against the others. Our own choice, no source. */
const WHOLE = 0.95;

/**
 * Make years and crops comparable: each surface over its level, then the plain mean over the years known in the cell (Blackmore 2000, Computers and
 * Electronics in Agriculture 26, spatial trend). The level of a year that covers the known ground is its own area-weighted mean. A year that covers
 * a part of it may cover good ground or poor, so its level is its mean over what the reference says of the same cells: the mean of the years that cover
 * all, where those are silent `soilRelative` (relative yield by the soils), and 1 where both are.
 */
export function relativeYield(
  surfaces: readonly Surface[],
  area: Float64Array,
  soilRelative: Surface | null = null,
): YearsTogether {
  const layers = soilRelative ? [...surfaces, soilRelative] : surfaces;
  const knownArea = area.reduce(
    (sum, own, cell) => sum + (layers.some((layer) => !Number.isNaN(layer[cell])) ? own : 0),
    0,
  );
  const spreads = surfaces.map((surface) => spreadOf(surface, area));
  const whole = spreads.map(({ weight }) => weight >= WHOLE * knownArea);
  const ownLevels = spreads.map(({ mean }) => mean);
  const trusted = blend(
    surfaces.filter((_, k) => whole[k]),
    ownLevels.filter((_, k) => whole[k]),
    area.length,
  );
  const reference = trusted.relative.map((own, cell) =>
    Number.isNaN(own) && soilRelative ? soilRelative[cell] : own,
  );
  const levels = surfaces.map((surface, k) =>
    whole[k] ? ownLevels[k] : levelAgainst(surface, reference, area, ownLevels[k]),
  );
  return { ...blend(surfaces, levels, area.length), levels };
}

/** mean(y) / mean(reference) over the cells both know; `alone` where they share none. */
function levelAgainst(surface: Surface, reference: Surface, area: Float64Array, alone: number): number {
  const own = surface.map((value, cell) => (Number.isNaN(reference[cell]) ? NaN : value));
  const other = reference.map((value, cell) => (Number.isNaN(surface[cell]) ? NaN : value));
  const level = spreadOf(own, area).mean / spreadOf(other, area).mean;
  return level > 0 && Number.isFinite(level) ? level : alone;
}

function blend(
  surfaces: readonly Surface[],
  levels: readonly number[],
  cells: number,
): Pick<YearsTogether, 'relative' | 'years'> {
  const relative = new Float64Array(cells);
  const years = new Uint8Array(cells);
  for (const [k, surface] of surfaces.entries()) {
    for (let cell = 0; cell < cells; cell++) {
      if (Number.isNaN(surface[cell])) continue;
      relative[cell] += surface[cell] / levels[k];
      years[cell]++;
    }
  }
  for (let cell = 0; cell < cells; cell++) relative[cell] = years[cell] ? relative[cell] / years[cell] : NaN;
  return { relative, years };
}
