import type { Surface } from '../grid/field-grid.ts';
import { spreadOf } from '../math/weighted.ts';
import { meanRelative, yearLevels } from './year-levels.ts';

export interface YearSurface {
  readonly values: Surface;
  /** Standard error of the values, same unit; null when not known. */
  readonly error: Surface | null;
  /** How much the year counts; 0 shows it without counting it. */
  readonly weight: number;
}

export interface YearsTogether {
  /** Weighted mean over years of yield relative to that year's level; 1 is the field's own. NaN where no counted year is known. */
  readonly relative: Surface;
  /** Counted years known, by cell. */
  readonly years: Uint8Array;
  /** By surface, in its own unit: the yield that stands for 1. */
  readonly levels: readonly number[];
  /** Standard deviation between years of the relative yield; NaN where fewer than two counted years are known. */
  readonly spread: Surface;
  /** Standard error of `relative`. */
  readonly error: Surface;
  /** What the error is made of. */
  readonly errorFrom: 'spread between years' | 'measurement in one year' | 'not known';
}

export interface YearsOptions {
  readonly soilRelative?: Surface | null;
  /** `relative`: yield over level. `spread`: the same with every year's pattern brought to the same spread, as z-scores are. */
  readonly by?: 'relative' | 'spread';
}

/** Years a cell's own spread is worth beside the field's: with two or three years a spread of one's own says little. Our own choice, no source. */
const POOLED_YEARS = 3;

/**
 * Make years and crops comparable and bring them together: each year's yield over its level (Blackmore 2000, Computers and Electronics in Agriculture 26,
 * spatial trend and temporal stability), or that with its spread made alike (z-scores about 1), then the weighted mean and spread over years by cell.
 * The error of the mean is the spread between years over the root of their effective number, (Σw)²/Σw²; a cell's own spread is drawn toward the field's,
 * because it rests on few years. It holds for another year of the same kind as those seen.
 */
export function yearsTogether(
  surfaces: readonly YearSurface[],
  area: Float64Array,
  { soilRelative = null, by = 'relative' }: YearsOptions = {},
): YearsTogether {
  const cells = area.length;
  const weights = surfaces.map(({ weight }) => weight);
  const raw = surfaces.map(({ values }) => values);
  const levels = yearLevels(raw, weights, area, soilRelative);
  const patterns = by === 'spread' ? spreadAlike(raw, levels, weights, area) : raw;
  const relative = meanRelative(patterns, weights, levels, cells);
  const years = new Uint8Array(cells);
  const sum = new Float64Array(cells);
  const squares = new Float64Array(cells);
  const deviation = new Float64Array(cells);
  for (const [k, pattern] of patterns.entries()) {
    const weight = weights[k];
    if (!(weight > 0)) continue;
    for (let cell = 0; cell < cells; cell++) {
      if (Number.isNaN(pattern[cell])) continue;
      years[cell]++;
      sum[cell] += weight;
      squares[cell] += weight * weight;
      deviation[cell] += weight * (pattern[cell] / levels[k] - relative[cell]) ** 2;
    }
  }
  // Unbiased for weights that say how far to trust a year: Σw(r − r̄)² / (Σw − Σw²/Σw).
  const spread = deviation.map((own, cell) =>
    years[cell] > 1 ? Math.sqrt(own / (sum[cell] - squares[cell] / sum[cell])) : NaN,
  );
  const effective = sum.map((own, cell) => (own * own) / squares[cell]);
  const pooled = pooledVariance(spread, area);
  if (Number.isNaN(pooled)) {
    const error = measured(surfaces, levels, years);
    const known = error.some((own) => !Number.isNaN(own));
    return {
      relative,
      years,
      levels,
      spread,
      error,
      errorFrom: known ? 'measurement in one year' : 'not known',
    };
  }
  const error = effective.map((n, cell) => {
    if (years[cell] === 0) return NaN;
    const own = years[cell] > 1 ? (n - 1) * spread[cell] ** 2 : 0;
    const worth = years[cell] > 1 ? n - 1 : 0;
    return Math.sqrt((own + POOLED_YEARS * pooled) / (worth + POOLED_YEARS) / n);
  });
  return { relative, years, levels, spread, error, errorFrom: 'spread between years' };
}

/** Every year's departures from its level scaled so that their spread is the weighted mean of all years' (over the ground each knows). */
function spreadAlike(
  surfaces: readonly Surface[],
  levels: readonly number[],
  weights: readonly number[],
  area: Float64Array,
): Surface[] {
  const relative = meanRelative(surfaces, weights, levels, area.length);
  // A year of a part of the field is held against the mean pattern on the same part, which may be even ground.
  const ratios = surfaces.map((surface, k) => {
    const own = surface.map((value, cell) => (Number.isNaN(relative[cell]) ? NaN : value / levels[k]));
    const mean = relative.map((value, cell) => (Number.isNaN(surface[cell]) ? NaN : value));
    const ratio = spreadOf(own, area).sd / spreadOf(mean, area).sd;
    return ratio > 0 && Number.isFinite(ratio) ? ratio : 1;
  });
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const usual = ratios.reduce((sum, ratio, k) => sum + (weights[k] * ratio) / total, 0);
  return surfaces.map((surface, k) => {
    const centre = spreadOf(surface, area).mean;
    return surface.map((value) => centre + ((value - centre) * usual) / ratios[k]);
  });
}

function pooledVariance(spread: Surface, area: Float64Array): number {
  let sum = 0;
  let weight = 0;
  for (let cell = 0; cell < spread.length; cell++) {
    if (Number.isNaN(spread[cell])) continue;
    sum += area[cell] * spread[cell] ** 2;
    weight += area[cell];
  }
  return weight > 0 ? sum / weight : NaN;
}

/** Where no cell has two years there is no spread between years to be seen: only how well the one year was measured. */
function measured(surfaces: readonly YearSurface[], levels: readonly number[], years: Uint8Array): Surface {
  const error = new Float64Array(years.length).fill(NaN);
  for (const [k, { error: own, weight }] of surfaces.entries()) {
    if (!own || !(weight > 0)) continue;
    for (let cell = 0; cell < error.length; cell++) {
      if (years[cell] > 0 && !Number.isNaN(own[cell])) error[cell] = own[cell] / levels[k];
    }
  }
  return error;
}
