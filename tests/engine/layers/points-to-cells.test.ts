import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FieldGrid } from '../../../src/engine/grid/field-grid.ts';
import { cellAt, layOutGrid } from '../../../src/engine/grid/lay-out-grid.ts';
import { blockMeans } from '../../../src/engine/layers/block-mean.ts';
import { inverseDistance } from '../../../src/engine/layers/inverse-distance.ts';
import { random } from '../../../src/engine/math/random.ts';
import { drawn } from '../grid/drawn.ts';
import { box, region } from '../grid/shapes.ts';

const f = (...values: number[]) => Float64Array.from(values);

/** Points all over the box of a grid, some with no value. */
function scatter(grid: FieldGrid, count: number, seed: number) {
  const stream = random(seed);
  const heading = (grid.heading_deg * Math.PI) / 180;
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  const value = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const u = grid.u0 + stream.uniform() * grid.cols * grid.cell_m;
    const v = grid.v0 + stream.uniform() * grid.rows * grid.cell_m;
    x[i] = u * Math.cos(heading) + v * Math.sin(heading);
    y[i] = -u * Math.sin(heading) + v * Math.cos(heading);
    value[i] = stream.uniform() < 0.1 ? NaN : 100 + 20 * stream.normal();
  }
  return { x, y, value };
}

const seeds = fc.integer({ min: 0, max: 1e6 });
const headings = fc.constantFrom(0, 90, 12, 77.7, 135);

describe('means of the points in each cell', () => {
  it('are of the cell a point lies in, NaN without one, and pass over blanks', () => {
    const { grid } = drawn(['00', '00'], 10);
    const { values, support } = blockMeans(grid, f(1, 9, 15, 15), f(1, 9, 5, 15), f(100, 200, 50, NaN));
    expect(Array.from(values)).toEqual([150, 50, NaN, NaN]);
    expect(Array.from(support)).toEqual([2, 1, 0, 0]);
  });

  it('leave out points outside the field', () => {
    const { grid } = drawn(['0.', '00'], 10);
    const { values, support } = blockMeans(grid, f(15, -1, 500), f(15, 5, 5), f(1, 2, 3));
    expect(Array.from(values)).toEqual([NaN, NaN, NaN]);
    expect(Array.from(support)).toEqual([0, 0, 0]);
  });

  it('agree with adding up cell by cell', () => {
    fc.assert(
      fc.property(seeds, headings, (seed, heading) => {
        const grid = layOutGrid(region([0, 0, 90, 10, 120, 80, 30, 110]), 11, heading);
        const { x, y, value } = scatter(grid, 300, seed);
        const { values, support } = blockMeans(grid, x, y, value);
        for (let cell = 0; cell < values.length; cell++) {
          const own = Array.from(value).filter(
            (v, i) => !Number.isNaN(v) && cellAt(grid, x[i], y[i]) === cell,
          );
          if (support[cell] !== own.length) return false;
          const mean = own.reduce((sum, v) => sum + v, 0) / own.length;
          if (own.length > 0 && Math.abs(values[cell] - mean) > 1e-9) return false;
        }
        return true;
      }),
      { seed: 1, numRuns: 60 },
    );
  });
});

describe('inverse-distance means', () => {
  const options = { radius_m: 30, most: 12, power: 2 };

  it('weigh two points by one over distance squared', () => {
    const { grid } = drawn(['000'], 10);
    // From the middle centre (15, 5): 5 m and 10 m away, weights 1/25 and 1/100.
    const values = inverseDistance(grid, f(10, 25), f(5, 5), f(100, 200), options);
    expect(values[1]).toBeCloseTo((100 / 25 + 200 / 100) / (1 / 25 + 1 / 100), 12);
  });

  it('are the mean of the points on the centre where some lie on it', () => {
    const { grid } = drawn(['0'], 10);
    expect(inverseDistance(grid, f(5, 5, 6), f(5, 5, 5), f(10, 20, 99), options)[0]).toBe(15);
  });

  it('are not known where no point is near, or none is wanted', () => {
    const { grid } = drawn(['00000'], 10);
    const near = { ...options, radius_m: 10 };
    const values = inverseDistance(grid, f(5), f(5), f(70), near);
    expect(Array.from(values)).toEqual([70, 70, NaN, NaN, NaN]);
    const wanted = Uint8Array.of(0, 1, 1, 1, 1);
    expect(Array.from(inverseDistance(grid, f(5), f(5), f(70), near, wanted))).toEqual([
      NaN,
      70,
      NaN,
      NaN,
      NaN,
    ]);
  });

  it('agree with weighing the nearest of all points, one cell at a time', () => {
    fc.assert(
      fc.property(
        seeds,
        headings,
        fc.record({
          radius_m: fc.double({ min: 4, max: 60, noNaN: true }),
          most: fc.integer({ min: 1, max: 20 }),
          power: fc.double({ min: 0.5, max: 4, noNaN: true }),
        }),
        (seed, heading, own) => {
          const grid = layOutGrid(region([0, 0, 90, 10, 120, 80, 30, 110]), 11, heading);
          const { x, y, value } = scatter(grid, 120, seed);
          const found = inverseDistance(grid, x, y, value, own);
          for (let cell = 0; cell < found.length; cell++) {
            const near = Array.from(value, (v, i) => ({
              v,
              distance: Math.hypot(x[i] - grid.x[cell], y[i] - grid.y[cell]),
            }))
              .filter(({ v, distance }) => !Number.isNaN(v) && distance <= own.radius_m)
              .sort((a, b) => a.distance - b.distance)
              .slice(0, own.most);
            if (near.length === 0) {
              if (!Number.isNaN(found[cell])) return false;
              continue;
            }
            const weights = near.map(({ distance }) => distance ** -own.power);
            const mean =
              near.reduce((sum, { v }, k) => sum + weights[k] * v, 0) /
              weights.reduce((sum, w) => sum + w, 0);
            if (Math.abs(found[cell] - mean) > 1e-7) return false;
          }
          return true;
        },
      ),
      { seed: 2, numRuns: 150 },
    );
  });

  /** Isaaks & Srivastava 1989, An Introduction to Applied Geostatistics, chapter 12 (points and printed results from memory, recomputed with exact distances). */
  it('agree with a textbook: seven points about (65, 137)', () => {
    const grid = layOutGrid(region(box(45, 117, 40, 40)), 40, 0);
    const x = f(61, 63, 64, 68, 71, 73, 75);
    const y = f(139, 140, 129, 128, 140, 141, 128);
    const value = f(477, 696, 227, 646, 606, 791, 783);
    for (const [power, printed] of [
      [0.2, 600.6],
      [0.5, 597.0],
      [1, 594.0],
      [2, 597.6],
      [5, 635.4],
      [10, 673.0],
    ]) {
      const [mean] = inverseDistance(grid, x, y, value, { radius_m: 100, most: 7, power });
      expect(mean).toBeCloseTo(printed, 1);
    }
  });
});
