import type { Surface } from '../grid/field-grid.ts';
import { meanRelative } from './year-levels.ts';

/** Correlation under which a year is pointed out as unusual, when at least three years can be held against each other. Our own choice, no source. */
export const UNUSUAL_UNDER = 0.2;

/**
 * How the pattern of each year agrees with the mean of the other years that count: correlation by area over the cells both know. NaN where a year
 * shares no ground with the others or either is even. A low figure is no fault of the map: a wet year may turn the field's pattern over.
 */
export function yearAgreement(
  surfaces: readonly Surface[],
  levels: readonly number[],
  area: Float64Array,
  counts: readonly boolean[] = surfaces.map(() => true),
): number[] {
  return surfaces.map((surface, k) => {
    const others = meanRelative(
      surfaces,
      surfaces.map((_, j) => (j === k || !counts[j] ? 0 : 1)),
      levels,
      area.length,
    );
    return correlation(surface, others, area);
  });
}

/** Correlation by area of what both know. */
export function correlation(a: Surface, b: Surface, area: Float64Array): number {
  let [weight, sumA, sumB] = [0, 0, 0];
  for (let cell = 0; cell < area.length; cell++) {
    if (Number.isNaN(a[cell]) || Number.isNaN(b[cell])) continue;
    weight += area[cell];
    sumA += area[cell] * a[cell];
    sumB += area[cell] * b[cell];
  }
  const [meanA, meanB] = [sumA / weight, sumB / weight];
  let [aa, bb, ab] = [0, 0, 0];
  for (let cell = 0; cell < area.length; cell++) {
    if (Number.isNaN(a[cell]) || Number.isNaN(b[cell])) continue;
    const [da, db] = [a[cell] - meanA, b[cell] - meanB];
    aa += area[cell] * da * da;
    bb += area[cell] * db * db;
    ab += area[cell] * da * db;
  }
  // Rounding leaves an even surface a hair of spread; the ratio would then be noise.
  const even = (squares: number, mean: number) => !(squares / weight > (1e-9 * mean) ** 2);
  return even(aa, meanA) || even(bb, meanB) ? NaN : ab / Math.sqrt(aa * bb);
}
