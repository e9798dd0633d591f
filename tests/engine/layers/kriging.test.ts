import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { layOutGrid } from '../../../src/engine/grid/lay-out-grid.ts';
import { krigeAt, krigeOnGrid } from '../../../src/engine/layers/kriging.ts';
import { semivariance, type VariogramModel } from '../../../src/engine/layers/variogram-model.ts';
import { random } from '../../../src/engine/math/random.ts';
import { region } from '../grid/shapes.ts';

const f = (...values: number[]) => Float64Array.from(values);

const models: fc.Arbitrary<VariogramModel> = fc.record({
  family: fc.constantFrom('spherical' as const, 'exponential' as const),
  nugget: fc.constantFrom(0, 0.5, 20),
  psill: fc.double({ min: 1, max: 100, noNaN: true }),
  range_m: fc.double({ min: 10, max: 300, noNaN: true }),
});
const options = fc.record({
  radius_m: fc.double({ min: 15, max: 120, noNaN: true }),
  most: fc.integer({ min: 1, max: 30 }),
  least: fc.integer({ min: 1, max: 5 }),
  block_m: fc.constantFrom(0, 8),
});
const seeds = fc.integer({ min: 0, max: 1e6 });

/** Points and places over 100 m, no two points of one place. */
function scene(seed: number, count = 80) {
  const chance = random(seed);
  const spread = (n: number) => Float64Array.from({ length: n }, () => 100 * chance.uniform());
  const value = Float64Array.from({ length: count }, () => 50 + 10 * chance.normal());
  return { x: spread(count), y: spread(count), value, placeX: spread(25), placeY: spread(25) };
}

/** Estimates are of size 50; equations of up to 30 points lose some digits. */
const CLOSE = 1e-6;

describe('kriging', () => {
  it('solves the equations as written in the books', () => {
    fc.assert(
      fc.property(seeds, models, (seed, model) => {
        const { x, y, value, placeX, placeY } = scene(seed, 12);
        const own = { radius_m: 1000, most: 12, least: 1, block_m: 0 };
        const { values, se } = krigeAt(placeX, placeY, x, y, value, model, own);
        for (let k = 0; k < values.length; k++) {
          const { estimate, variance } = byTheBook(x, y, value, model, placeX[k], placeY[k]);
          if (Math.abs(values[k] - estimate) > CLOSE || Math.abs(se[k] ** 2 - variance) > CLOSE) return false;
        }
        return true;
      }),
      { seed: 1, numRuns: 60 },
    );
  });

  it('takes the nearest points within reach, and no others', () => {
    fc.assert(
      fc.property(seeds, models, options, (seed, model, own) => {
        const { x, y, value, placeX, placeY } = scene(seed);
        const found = krigeAt(placeX, placeY, x, y, value, model, own);
        for (let k = 0; k < placeX.length; k++) {
          const near = Array.from(x, (_, i) => ({ i, d: Math.hypot(x[i] - placeX[k], y[i] - placeY[k]) }))
            .filter(({ d }) => d <= own.radius_m)
            .sort((a, b) => a.d - b.d)
            .slice(0, own.most);
          if (found.support[k] !== near.length) return false;
          if (Number.isNaN(found.values[k]) !== near.length < own.least) return false;
          if (Number.isNaN(found.se[k]) !== near.length < own.least) return false;
          if (near.length < own.least) continue;
          const only = value.map((each, i) => (near.some((point) => point.i === i) ? each : NaN));
          const wide = { ...own, most: 1000, radius_m: 1000 };
          const again = krigeAt(f(placeX[k]), f(placeY[k]), x, y, only, model, wide);
          if (Math.abs(again.values[0] - found.values[k]) > CLOSE) return false;
          if (Math.abs(again.se[0] - found.se[k]) > CLOSE) return false;
        }
        return true;
      }),
      { seed: 2, numRuns: 60 },
    );
  });

  it('has weights that add up to 1: level ground stays level, and a rise of all is a rise of each', () => {
    fc.assert(
      fc.property(seeds, models, options, (seed, model, own) => {
        const { x, y, value, placeX, placeY } = scene(seed);
        const of = (values: Float64Array) => krigeAt(placeX, placeY, x, y, values, model, own).values;
        const [level, base, raised] = [x.map(() => 7), value, value.map((each) => each + 1000)].map(of);
        return base.every(
          (each, k) =>
            Number.isNaN(each) ||
            (Math.abs(level[k] - 7) < CLOSE && Math.abs(raised[k] - each - 1000) < CLOSE),
        );
      }),
      { seed: 3, numRuns: 100 },
    );
  });

  it('gives a point its own value, without error', () => {
    fc.assert(
      fc.property(seeds, models, (seed, model) => {
        const { x, y, value } = scene(seed);
        const own = { radius_m: 60, most: 12, least: 1, block_m: 0 };
        const { values, se } = krigeAt(x, y, x, y, value, model, own);
        return values.every((each, i) => Math.abs(each - value[i]) < CLOSE && se[i] < 1e-4);
      }),
      { seed: 4, numRuns: 100 },
    );
  });

  it('knows the mean of a block no worse than a point in its middle', () => {
    fc.assert(
      fc.property(seeds, models, options, (seed, model, own) => {
        const { x, y, value, placeX, placeY } = scene(seed);
        // Away from the points: on one the value is known, and the mean about it is not.
        const point = krigeAt(placeX, placeY, x, y, value, model, { ...own, block_m: 0 });
        const block = krigeAt(placeX, placeY, x, y, value, model, { ...own, block_m: 5 });
        return point.se.every((each, k) => {
          const nearest = Math.min(...x.map((_, i) => Math.hypot(x[i] - placeX[k], y[i] - placeY[k])));
          return nearest < 5 || Number.isNaN(each) || block.se[k] <= each + CLOSE;
        });
      }),
      { seed: 5, numRuns: 100 },
    );
  });

  it('does not mind where on earth it is, nor how the grid is turned', () => {
    fc.assert(
      fc.property(seeds, models, fc.constantFrom(0, 90, 33), (seed, model, heading) => {
        const { x, y, value } = scene(seed);
        const own = { radius_m: 50, most: 10, least: 2 };
        const grid = layOutGrid(region([0, 0, 90, 10, 120, 80, 30, 110]), 11, heading);
        const on = krigeOnGrid(grid, x, y, value, model, { ...own, block: false });
        const away = (by: number) => (each: number) => each + by;
        const at = krigeAt(
          grid.x.map(away(5e5)),
          grid.y.map(away(4e6)),
          x.map(away(5e5)),
          y.map(away(4e6)),
          value,
          model,
          { ...own, block_m: 0 },
        );
        return on.values.every((each, k) => {
          if (Number.isNaN(each)) return Number.isNaN(at.values[k]);
          // Coordinates of millions of metres keep a nanometre.
          return Math.abs(at.values[k] - each) < 1e-4 && Math.abs(at.se[k] - on.se[k]) < 1e-3;
        });
      }),
      { seed: 6, numRuns: 60 },
    );
  });

  const level: VariogramModel = { family: 'spherical', nugget: 0, psill: 4, range_m: 50 };
  const near = { radius_m: 30, most: 8, least: 1, block_m: 0 };

  it('takes points of one place as one, with their mean', () => {
    const twice = krigeAt(f(3), f(0), f(0, 0, 10), f(0, 0, 0), f(4, 6, 9), level, near);
    const once = krigeAt(f(3), f(0), f(0, 10), f(0, 0), f(5, 9), level, near);
    expect(twice).toEqual(once);
    expect(twice.support[0]).toBe(2);
  });

  it('stands points a hair apart, though they say different things', () => {
    const x = f(0, 1e-20, 2e-20, 0, 1e-13, 10);
    const y = f(0, 0, 1e-20, 2e-20, 1e-13, 0);
    const { values, se } = krigeAt(f(3), f(0), x, y, f(5, 6, 4, 7, 5, 9), level, near);
    const once = krigeAt(f(3), f(0), f(0, 10), f(0, 0), f(5, 9), level, near);
    // One of them is taken, whichever stands first.
    expect(Math.abs(values[0] - once.values[0])).toBeLessThan(3);
    expect(se[0]).toBeCloseTo(once.se[0], 6);
  });

  it('knows nothing without points, out of reach, or from too few', () => {
    for (const found of [
      krigeAt(f(0), f(0), f(), f(), f(), level, near),
      krigeAt(f(0), f(0), f(1), f(1), f(NaN), level, near),
      krigeAt(f(0), f(0), f(31), f(0), f(5), level, near),
      krigeAt(f(0), f(0), f(5), f(0), f(5), level, { ...near, least: 2 }),
    ]) {
      expect(found.values[0]).toBeNaN();
      expect(found.se[0]).toBeNaN();
    }
    expect(krigeAt(f(), f(), f(1), f(1), f(1), level, near).values.length).toBe(0);
  });

  it('is the mean of the points, error √(nugget/n), where there is nothing but nugget', () => {
    const flat: VariogramModel = { family: 'spherical', nugget: 9, psill: 0, range_m: 10 };
    const found = krigeAt(f(0), f(0), f(1, 2, 3, 4), f(0, 0, 0, 0), f(1, 2, 3, 6), flat, {
      ...near,
      block_m: 2,
    });
    expect(found.values[0]).toBeCloseTo(3, 12);
    expect(found.se[0]).toBeCloseTo(1.5, 12);
  });

  it('tells how far it is and stops when told', () => {
    const { x, y, value } = scene(1);
    const grid = layOutGrid(region([0, 0, 100, 0, 100, 100, 0, 100]), 1, 0);
    const shares: number[] = [];
    krigeOnGrid(grid, x, y, value, level, { ...near, block: true }, (share) => shares.push(share));
    expect(shares.length).toBeGreaterThan(3);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect([shares[0], shares.at(-1)]).toEqual([0, 1]);
    const stop = () => {
      throw new Error('enough');
    };
    expect(() => krigeOnGrid(grid, x, y, value, level, { ...near, block: true }, stop)).toThrow('enough');
  });

  it('works along a line of points and round a point far away', () => {
    const x = Float64Array.from({ length: 500 }, (_, i) => i);
    const found = krigeAt(
      f(100.5, 1e7),
      f(0, 0),
      Float64Array.of(...x, 1e7 + 1),
      new Float64Array(501),
      Float64Array.of(...x, 3),
      level,
      near,
    );
    expect(found.values[0]).toBeCloseTo(100.5, 6);
    expect(found.values[1]).toBe(3);
  });
});

/** The bordered system of semivariances, solved by elimination with row exchanges. */
function byTheBook(
  x: Float64Array,
  y: Float64Array,
  value: Float64Array,
  model: VariogramModel,
  placeX: number,
  placeY: number,
) {
  const n = x.length;
  const gamma = (i: number, u: number, v: number) => semivariance(model, Math.hypot(x[i] - u, y[i] - v));
  const right = [...Array.from(x, (_, i) => gamma(i, placeX, placeY)), 1];
  const rows = right.map((last, i) => [
    ...Array.from(x, (_, j) => (i === n ? 1 : gamma(i, x[j], y[j]))),
    i === n ? 0 : 1,
    last,
  ]);
  for (let k = 0; k <= n; k++) {
    const pivot = rows.slice(k).reduce((best, row) => (Math.abs(row[k]) > Math.abs(best[k]) ? row : best));
    rows.splice(rows.indexOf(pivot), 1);
    rows.splice(k, 0, pivot);
    for (const row of rows) {
      if (row === pivot) continue;
      const share = row[k] / pivot[k];
      for (let j = k; j <= n + 1; j++) row[j] -= share * pivot[j];
    }
  }
  const solved = rows.map((row, k) => row[n + 1] / row[k]);
  return {
    estimate: value.reduce((sum, each, i) => sum + each * solved[i], 0),
    variance: right.reduce((sum, each, i) => sum + each * solved[i], 0),
  };
}
