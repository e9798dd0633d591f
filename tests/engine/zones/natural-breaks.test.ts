import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { classOf, naturalBreaks } from '../../../src/engine/zones/natural-breaks.ts';

const f = (...values: number[]) => Float64Array.from(values);

/** The least within-class squares of any cut of sorted values in `count` runs, all cuts tried. */
function leastSquares(sorted: readonly number[], count: number): number {
  const within = (values: readonly number[]) => {
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    return values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  };
  if (count === 1) return within(sorted);
  let best = Infinity;
  for (let cut = 1; cut <= sorted.length - count + 1; cut++)
    best = Math.min(best, within(sorted.slice(0, cut)) + leastSquares(sorted.slice(cut), count - 1));
  return best;
}

describe('natural breaks', () => {
  it('cut where the gaps are', () => {
    // Cuts at 5 and 12 by R's classInt, style "fisher": halfway between 3 and 7, and 9 and 15.
    const breaks = naturalBreaks(f(9, 1, 17, 2, 18, 7, 3, 16, 8, 15), 3);
    expect(breaks.upper).toEqual([3, 9, 18]);
    expect([1, 5, 9, 15, 99].map((value) => classOf(breaks, value))).toEqual([0, 1, 1, 2, 2]);
  });

  it('are one class where all values are equal, and as many as there are values to part', () => {
    expect(naturalBreaks(f(180, 180, 180), 4)).toEqual({ upper: [180], fit: 1 });
    expect(naturalBreaks(f(1, 2, 2, 1), 5).upper).toEqual([1, 2]);
    expect(naturalBreaks(f(4), 3).upper).toEqual([4]);
  });

  it('are one class for a count of 1, 0 or less', () => {
    for (const count of [1, 0, -2]) expect(naturalBreaks(f(1, 2, 3), count)).toEqual({ upper: [3], fit: 0 });
  });

  it('have the least squares of all cuts, and put every value in the class they found for it', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 1, maxLength: 12 }),
        fc.integer({ min: 1, max: 4 }),
        (values, count) => {
          const breaks = naturalBreaks(Float64Array.from(values), count);
          const sorted = [...values].sort((a, b) => a - b);
          const classes = Math.min(count, new Set(values).size);
          const whole = leastSquares(sorted, 1);
          const fit = whole === 0 ? 1 : 1 - leastSquares(sorted, classes) / whole;
          return (
            breaks.upper.length === classes &&
            Math.abs(breaks.fit - fit) < 1e-9 &&
            breaks.upper.every((upper, k) => classOf(breaks, upper) === k)
          );
        },
      ),
      { seed: 1, numRuns: 400 },
    );
  });

  it('take 60,000 cells in a few seconds', { timeout: 10_000 }, () => {
    const values = Float64Array.from({ length: 60_000 }, (_, i) => Math.sin(i) * 40 + (i % 7));
    expect(naturalBreaks(values, 5).upper).toHaveLength(5);
  });
});
