import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cellAt, layOutGrid } from '../../../src/engine/grid/lay-out-grid.ts';
import { blockMeans } from '../../../src/engine/layers/block-mean.ts';
import { blockMedians } from '../../../src/engine/layers/block-median.ts';
import { median } from '../../../src/engine/math/median.ts';
import { random } from '../../../src/engine/math/random.ts';
import { drawn } from '../grid/drawn.ts';
import { region } from '../grid/shapes.ts';

const f = (...values: number[]) => Float64Array.from(values);

/** One group of values a cell, in a row of cells. */
function inCells(groups: readonly (readonly number[])[]) {
  const { grid } = drawn(['0'.repeat(groups.length)], 10);
  const x = Float64Array.from(groups.flatMap((group, cell) => group.map((_, i) => 10 * cell + 0.5 + i / 2)));
  return [grid, x, x.map(() => 5), Float64Array.from(groups.flat())] as const;
}

/** Breaks in six sets of nine looms of yarn, wool A at low, medium and high tension, then B: R's `warpbreaks` (Tippett 1950). */
const warpbreaks = [
  [26, 30, 54, 25, 70, 52, 51, 26, 67],
  [18, 21, 29, 17, 12, 18, 35, 30, 36],
  [36, 21, 24, 18, 10, 43, 28, 15, 26],
  [27, 14, 29, 19, 29, 31, 41, 20, 44],
  [42, 26, 19, 16, 39, 28, 21, 39, 29],
  [20, 21, 24, 17, 13, 15, 15, 16, 28],
];
/** Dried weights of three sets of ten plants: R's `PlantGrowth` (Dobson 1983). */
const plantGrowth = [
  [4.17, 5.58, 5.18, 6.11, 4.5, 4.61, 5.17, 4.53, 5.33, 5.14],
  [4.81, 4.17, 4.41, 3.59, 5.87, 3.83, 6.03, 4.89, 4.32, 4.69],
  [6.31, 5.12, 5.54, 5.5, 5.37, 5.29, 4.92, 6.15, 5.8, 5.26],
];

describe('the standard error of a cell’s mean', () => {
  it('comes from all cells together where each has few points: R’s aov, predict(se.fit = TRUE)', () => {
    const { values, se, support } = blockMeans(...inCells(warpbreaks));
    expect(Array.from(support)).toEqual([9, 9, 9, 9, 9, 9]);
    [44.5555555556, 24, 24.5555555556, 28.2222222222, 28.7777777778, 18.7777777778].forEach((mean, cell) => {
      expect(values[cell]).toBeCloseTo(mean, 9);
      // Residual mean square 119.689814815 with 48 degrees of freedom.
      expect(se[cell]).toBeCloseTo(3.64676134574, 9);
    });
  });

  it('comes from its own points where they are ten: R’s sd()/sqrt(10)', () => {
    const { values, se } = blockMeans(...inCells(plantGrowth));
    [
      [5.032, 0.184389683973],
      [4.661, 0.250982292425],
      [5.526, 0.139953960684],
    ].forEach(([mean, error], cell) => {
      expect(values[cell]).toBeCloseTo(mean, 9);
      expect(se[cell]).toBeCloseTo(error, 9);
    });
  });

  it('of one point is the pooled deviation, and is not known where no cell has two', () => {
    // Two cells with a sum of squares of 2 and one degree of freedom each.
    expect(Array.from(blockMeans(...inCells([[1, 3], [7], [], [5, 7]])).se)).toEqual([1, Math.SQRT2, NaN, 1]);
    expect(Array.from(blockMeans(...inCells([[1], [7]])).se)).toEqual([NaN, NaN]);
  });

  it('covers what it should: means lie within two errors of the truth 19 times in 20', () => {
    const chance = random(11);
    const groups = Array.from({ length: 4000 }, (_, k) =>
      Array.from({ length: 1 + (k % 14) }, () => 100 + 8 * chance.normal()),
    );
    const { values, se } = blockMeans(...inCells(groups));
    const within = values.filter((mean, cell) => Math.abs(mean - 100) < 1.96 * se[cell]).length;
    // A binomial share of 4,000 scatters by 0.0034; own deviations of 10 to 14 points take it to 0.94.
    expect(Math.abs(within / 4000 - 0.95)).toBeLessThan(0.02);
  });
});

describe('medians of the points in each cell', () => {
  it('agree with R: median() of warpbreaks and PlantGrowth', () => {
    expect(Array.from(blockMedians(...inCells(warpbreaks)).values)).toEqual([51, 21, 24, 29, 28, 17]);
    const { values, support } = blockMedians(...inCells(plantGrowth));
    [5.155, 4.55, 5.435].forEach((middle, cell) => {
      expect(values[cell]).toBeCloseTo(middle, 12);
    });
    expect(Array.from(support)).toEqual([10, 10, 10]);
  });

  it('are not moved by one wild point, and pass over blanks and points outside', () => {
    const { grid } = drawn(['0.0'], 10);
    const { values, support } = blockMedians(
      grid,
      f(1, 2, 3, 4, 15, 500),
      f(5, 5, 5, 5, 5, 5),
      f(10, 11, NaN, 1e9, 3, 4),
    );
    expect(Array.from(values)).toEqual([11, NaN]);
    expect(Array.from(support)).toEqual([3, 0]);
  });

  it('agree with sorting the points of each cell', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1e6 }), fc.constantFrom(0, 90, 33), (seed, heading) => {
        const grid = layOutGrid(region([0, 0, 90, 10, 120, 80, 30, 110]), 11, heading);
        const chance = random(seed);
        const x = Float64Array.from({ length: 400 }, () => 120 * chance.uniform());
        const y = Float64Array.from({ length: 400 }, () => 110 * chance.uniform());
        const value = x.map((_, i) => (i % 20 === 0 ? NaN : 100 + 10 * chance.normal()));
        const { values, support } = blockMedians(grid, x, y, value);
        return values.every((middle, cell) => {
          const own = value.filter((v, i) => !Number.isNaN(v) && cellAt(grid, x[i], y[i]) === cell);
          return own.length === support[cell] && Object.is(middle, median(own));
        });
      }),
      { seed: 1, numRuns: 60 },
    );
  });
});
