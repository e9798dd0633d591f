import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fuzzyCMeans } from '../../../src/engine/zones/fuzzy-c-means.ts';

const f = (...values: number[]) => Float64Array.from(values);

describe('fuzzy c-means', () => {
  it('finds two heaps, crisp as m comes near 1', () => {
    const found = fuzzyCMeans(f(1, 1.1, 0.9, 5, 5.1, 4.9), 1, 2, 1.05);
    expect(Array.from(found.centres).sort()).toEqual([expect.closeTo(1, 6), expect.closeTo(5, 6)]);
    expect(found.partitionCoefficient).toBeCloseTo(1, 6);
    expect(found.fuzzinessIndex).toBeCloseTo(0, 6);
    expect(found.entropy).toBeCloseTo(0, 6);
  });

  it('is the mean for one cluster', () => {
    const found = fuzzyCMeans(f(1, 2, 6), 1, 1, 2);
    expect(found.centres[0]).toBeCloseTo(3, 9);
    expect(found.objective).toBeCloseTo(14, 9);
    expect(found.fuzzinessIndex).toBe(0);
  });

  it('shares out fully where all rows are alike, and stays finite', () => {
    const found = fuzzyCMeans(f(7, 7, 7, 7), 1, 2, 1.3);
    expect(Array.from(found.membership)).toEqual([0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5]);
    expect(found.objective).toBe(0);
    expect(found.fuzzinessIndex).toBe(1);
  });

  it('does not lose digits for m close to 1 and distances far apart', () => {
    const found = fuzzyCMeans(f(0, 1e-6, 1e6, 1e6 + 1), 1, 2, 1.01);
    for (const value of [...found.centres, ...found.membership]) expect(Number.isFinite(value)).toBe(true);
  });

  it('has memberships that add up to 1, centres that are their weighted means, and is the same each time', () => {
    const rows = fc.array(
      fc.tuple(fc.double({ min: -5, max: 5, noNaN: true }), fc.double({ min: -5, max: 5, noNaN: true })),
      {
        minLength: 4,
        maxLength: 30,
      },
    );
    fc.assert(
      fc.property(rows, fc.integer({ min: 2, max: 4 }), fc.constantFrom(1.3, 2, 2.5), (points, count, m) => {
        const data = Float64Array.from(points.flat());
        const found = fuzzyCMeans(data, 2, count, m);
        const again = fuzzyCMeans(data, 2, count, m);
        for (let row = 0; row < points.length; row++) {
          const own = found.membership.subarray(row * count, (row + 1) * count);
          if (Math.abs(own.reduce((sum, u) => sum + u, 0) - 1) > 1e-12) return false;
        }
        const objective = points.reduce((sum, [x, y], row) => {
          for (let c = 0; c < count; c++) {
            const d2 = (x - found.centres[2 * c]) ** 2 + (y - found.centres[2 * c + 1]) ** 2;
            sum += found.membership[row * count + c] ** m * d2;
          }
          return sum;
        }, 0);
        return (
          Math.abs(found.objective - objective) <= 1e-9 * (1 + objective) &&
          found.centres.every((value, k) => value === again.centres[k])
        );
      }),
      { seed: 1, numRuns: 60 },
    );
  });
});
