import { expect, it } from 'vitest';
import { layOutGrid } from '../../../src/engine/grid/lay-out-grid.ts';
import { inverseDistance } from '../../../src/engine/layers/inverse-distance.ts';
import { random } from '../../../src/engine/math/random.ts';

it('few points in many cells: as if all were weighed, and no empty square is searched cell by cell', () => {
  const grid = layOutGrid([{ outer: Float64Array.of(0, 0, 1600, 0, 1600, 1600, 0, 1600), holes: [] }], 5, 30);
  const chance = random(3);
  const x = Float64Array.from({ length: 15 }, () => 1600 * chance.uniform());
  const y = Float64Array.from({ length: 15 }, () => 1600 * chance.uniform());
  const value = Float64Array.from({ length: 15 }, () => 20 + chance.normal());
  const started = performance.now();
  const surface = inverseDistance(grid, x, y, value, { radius_m: 4000, most: 15, power: 2 });
  // 0.06 s where searching the empty squares of the cells took 40 s; the bound is loose for slower machines.
  expect(performance.now() - started).toBeLessThan(3000);
  for (let cell = 0; cell < surface.length; cell += 997) {
    const weights = Array.from(x, (_, i) => 1 / ((x[i] - grid.x[cell]) ** 2 + (y[i] - grid.y[cell]) ** 2));
    const mean =
      weights.reduce((sum, weight, i) => sum + weight * value[i], 0) /
      weights.reduce((sum, weight) => sum + weight, 0);
    // The same terms in another order and unit: they differ by rounding only.
    expect(Math.abs(surface[cell] - mean)).toBeLessThan(1e-9);
  }
});
