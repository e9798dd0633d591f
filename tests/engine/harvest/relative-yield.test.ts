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
    expect(together.relative[0]).toBeCloseTo((1 + 0.9) / 2, 12);
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
