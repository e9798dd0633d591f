import { expect, it } from 'vitest';
import { layOutGrid } from '../../../src/engine/grid/lay-out-grid.ts';
import { inverseDistance } from '../../../src/engine/layers/inverse-distance.ts';
import { random } from '../../../src/engine/math/random.ts';

const SQUARE = [{ outer: Float64Array.of(0, 0, 120, 0, 120, 90, 0, 90), holes: [] }];

it.each([
  { radius_m: 15, most: 16, power: 2 },
  { radius_m: 7, most: 3, power: 1.5 },
  { radius_m: 12.5, most: 1, power: 2 },
  { radius_m: 200, most: 5, power: 3 },
  { radius_m: 2, most: 40, power: 2 },
])('finds the same neighbours as sorting all points by distance: %j', (options) => {
  const chance = random(7);
  const grid = layOutGrid(SQUARE, 5, 30);
  const n = 600;
  // Thick in one corner and thin in the others, so that some searches end at once and some find nothing.
  const x = Float64Array.from({ length: n }, () => 120 * chance.uniform() ** 2);
  const y = Float64Array.from({ length: n }, () => 90 * chance.uniform() ** 2);
  const value = Float64Array.from({ length: n }, (_, i) => (i % 50 === 0 ? NaN : 100 + 10 * chance.normal()));
  const surface = inverseDistance(grid, x, y, value, options);
  surface.forEach((got, cell) => {
    const near = Array.from(value, (v, i) => ({ v, d: Math.hypot(x[i] - grid.x[cell], y[i] - grid.y[cell]) }))
      .filter(({ v, d }) => !Number.isNaN(v) && d <= options.radius_m)
      .sort((a, b) => a.d - b.d)
      .slice(0, options.most);
    if (near.length === 0) {
      expect(got).toBeNaN();
      return;
    }
    const weights = near.map(({ d }) => d ** -options.power);
    const mean =
      near.reduce((sum, { v }, k) => sum + weights[k] * v, 0) / weights.reduce((sum, w) => sum + w, 0);
    // Both sum the same few terms in floating point: they differ by rounding only.
    expect(Math.abs(got - mean)).toBeLessThan(1e-9);
  });
});
