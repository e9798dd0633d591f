import { describe, expect, it } from 'vitest';
import { relativeYield } from '../../../src/engine/harvest/relative-yield.ts';
import { bushelOf, yieldIn_buPerAc } from '../../../src/engine/harvest/yield-unit.ts';

const f = (...values: number[]) => Float64Array.from(values);

describe('years made comparable', () => {
  it('are each taken over their own mean by area, then averaged over the years known', () => {
    // Corn in bu/ac and soybean in t/ha: means by area (3 to 1) are 175 and 3.
    const together = relativeYield([f(150, 250), f(2.5, 4.5)], f(3, 1));
    expect(together.relative[0]).toBeCloseTo((150 / 175 + 2.5 / 3) / 2, 12);
    expect(together.relative[1]).toBeCloseTo((250 / 175 + 4.5 / 3) / 2, 12);
    expect(Array.from(together.years)).toEqual([2, 2]);
  });

  it('leave a cell to the years that know it, and NaN to none', () => {
    const together = relativeYield([f(100, NaN, NaN), f(90, 110, NaN)], f(1, 1, 1));
    // The first year saw only ground the second puts at 0.9, so 100 is 0.9 of what it would have given.
    expect(together.relative[0]).toBeCloseTo(0.9, 12);
    expect(together.levels[0]).toBeCloseTo(100 / 0.9, 12);
    expect(together.levels[1]).toBeCloseTo(100, 12);
    expect(together.relative[1]).toBeCloseTo(1.1, 12);
    expect(together.relative[2]).toBeNaN();
    expect(Array.from(together.years)).toEqual([2, 1, 0]);
  });

  it('are not known without any', () => {
    expect(Array.from(relativeYield([], f(1, 1)).relative)).toEqual([NaN, NaN]);
  });

  it('keep a mean of 1 by area when every cell is known in every year', () => {
    const area = f(1, 2, 3, 4);
    const { relative } = relativeYield([f(10, 20, 30, 40), f(7, 5, 3, 1)], area);
    expect(relative.reduce((sum, value, k) => sum + value * area[k], 0)).toBeCloseTo(10, 12);
  });
});

describe('a year that covers a part of the field', () => {
  // Poor, poor, good, good, of unlike size: 0.75 and 1.125 by area.
  const pattern = [0.75, 0.75, 1.125, 1.125];
  const area = f(1, 2, 2, 4);
  const times = (level: number, ...cells: number[]) =>
    Float64Array.from(pattern, (own, cell) =>
      cells.length === 0 || cells.includes(cell) ? level * own : NaN,
    );
  const closeTo = (found: Float64Array, wanted: readonly number[]) =>
    wanted.forEach((own, cell) => {
      expect(found[cell]).toBeCloseTo(own, 12);
    });

  it('gives the pattern back exactly beside one that covers all, and its own level', () => {
    for (const part of [[0, 1], [2, 3], [0], [1, 2]]) {
      const { relative, levels } = relativeYield([times(180), times(50, ...part)], area);
      closeTo(relative, pattern);
      expect(levels[0]).toBeCloseTo(180, 12);
      expect(levels[1]).toBeCloseTo(50, 12);
    }
  });

  it('gives it back exactly where only the soils cover all', () => {
    const { relative, levels, years } = relativeYield([times(180, 0, 1)], area, times(1));
    closeTo(relative, [0.75, 0.75]);
    expect(levels[0]).toBeCloseTo(180, 12);
    expect(relative[2]).toBeNaN();
    expect(Array.from(years)).toEqual([1, 1, 0, 0]);
  });

  it('is trusted before the soils where it covers all but a twentieth', () => {
    const cells = Float64Array.from({ length: 100 }, () => 1);
    const year = Float64Array.from(cells, (_, k) => (k < 95 ? (k < 50 ? 90 : 110) : NaN));
    const soil = Float64Array.from(cells, (_, k) => (k < 50 ? 1.2 : 0.8));
    const mean = (50 * 90 + 45 * 110) / 95;
    expect(relativeYield([year], cells, soil).levels[0]).toBeCloseTo(mean, 12);
    // One cell fewer, and the soils set its level: its 94 cells are rated (50 · 1.2 + 44 · 0.8) / 94.
    year[94] = NaN;
    expect(relativeYield([year], cells, soil).levels[0]).toBeCloseTo((50 * 90 + 44 * 110) / (60 + 35.2), 12);
  });

  it('stands by itself where nothing covers its ground', () => {
    const { levels } = relativeYield([f(90, 110, NaN, NaN), f(NaN, NaN, 50, 50)], f(1, 1, 1, 1));
    expect(levels).toEqual([100, 50]);
    const apart = relativeYield([f(90, 110, NaN, NaN)], f(1, 1, 1, 1), f(NaN, NaN, 1, 1));
    expect(apart.levels).toEqual([100]);
  });
});

describe('a yield in bushels', () => {
  it.each([
    // 7 CFR 810: 56 lb of corn, 60 of soybean, 48 of barley a bushel; 1 kg/ha is 0.8921791 lb/ac.
    [5600, 'lb/ac', 'corn', 100],
    [10_000, 'kg/ha', 'corn', 159.3177],
    [10, 't/ha', 'Corn', 159.3177],
    [1, 't/ha', 'soybeans', 14.8697],
    [1, 't/ha', 'barley', 18.5871],
    [180, 'bu/ac', 'quinoa', 180],
  ] as const)('%s %s of %s is %s bu/ac', (value, unit, crop, bushels) => {
    expect(yieldIn_buPerAc(value, unit, crop)).toBeCloseTo(bushels, 4);
  });

  it('is not known without a unit or a bushel', () => {
    expect(yieldIn_buPerAc(10, 'unknown', 'corn')).toBeNull();
    expect(yieldIn_buPerAc(10, '', 'corn')).toBeNull();
    expect(yieldIn_buPerAc(10, 't/ha', 'quinoa')).toBeNull();
    expect(bushelOf('constructor')).toBeNull();
  });
});
