import { describe, expect, it } from 'vitest';
import { correlation, yearAgreement } from '../../../src/engine/harvest/year-agreement.ts';
import { yearLevels } from '../../../src/engine/harvest/year-levels.ts';
import { yearsTogether } from '../../../src/engine/harvest/years-together.ts';
import { bushelOf, yieldIn_buPerAc } from '../../../src/engine/harvest/yield-unit.ts';

const f = (...values: number[]) => Float64Array.from(values);
const counted = (...surfaces: Float64Array[]) =>
  surfaces.map((values) => ({ values, error: null, weight: 1 }));
const relativeYield = (
  surfaces: Float64Array[],
  area: Float64Array,
  soilRelative: Float64Array | null = null,
) => yearsTogether(counted(...surfaces), area, { soilRelative });

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
    levels.forEach((level, k) => {
      expect(level).toBeCloseTo([100, 50][k], 12);
    });
    const apart = relativeYield([f(90, 110, NaN, NaN)], f(1, 1, 1, 1), f(NaN, NaN, 1, 1));
    expect(apart.levels[0]).toBeCloseTo(100, 12);
  });
});

describe('years that each cover a part and overlap', () => {
  it('are fitted together: pattern and levels come back exactly, whatever the overlap', () => {
    const pattern = [0.6, 0.8, 1, 1.2, 1.4];
    const area = f(1, 1, 1, 1, 1);
    const part = (level: number, from: number, to: number) =>
      Float64Array.from(pattern, (own, cell) => (cell >= from && cell <= to ? level * own : NaN));
    // No year covers all; each is tied to the next by one cell.
    const { relative, levels } = relativeYield([part(180, 0, 2), part(60, 2, 3), part(5, 3, 4)], area);
    // Rounds stop at 1e-14 a round; slow ties leave some hundred times that.
    pattern.forEach((own, cell) => {
      expect(relative[cell]).toBeCloseTo(own, 11);
    });
    [180, 60, 5].forEach((level, k) => {
      expect(levels[k] / level).toBeCloseTo(1, 11);
    });
  });

  it('minimise nothing at the cost of a year of weight 0, which is levelled by the others', () => {
    const levels = yearLevels([f(90, 110), f(220, 180)], [1, 0], f(1, 1));
    expect(levels[0]).toBeCloseTo(100, 12);
    expect(levels[1]).toBeCloseTo(200, 12);
    const { relative, years } = yearsTogether(
      [
        { values: f(90, 110), error: null, weight: 1 },
        { values: f(220, 180), error: null, weight: 0 },
      ],
      f(1, 1),
    );
    expect(relative[0]).toBeCloseTo(0.9, 12);
    expect(Array.from(years)).toEqual([1, 1]);
  });
});

describe('spread between years and the error of the mean', () => {
  it('are those of the textbook for even weights', () => {
    // Relative yields by year: cell 0 gives 0.8, 1.0, 0.9; cell 1 the rest.
    const { spread, error, relative } = relativeYield([f(80, 120), f(100, 100), f(90, 110)], f(1, 1));
    expect(relative[0]).toBeCloseTo(0.9, 12);
    expect(spread[0]).toBeCloseTo(0.1, 12);
    // Both cells have the same spread, so drawing one toward the other changes nothing: 0.1 / √3.
    expect(error[0]).toBeCloseTo(0.1 / Math.sqrt(3), 12);
  });

  it('count a year twice by weight as little as it should: effective years (Σw)²/Σw²', () => {
    const surfaces = [f(80, 120), f(100, 100)].map((values, k) => ({ values, error: null, weight: k + 1 }));
    const { relative, spread, error } = yearsTogether(surfaces, f(1, 1));
    const mean = (0.8 + 2 * 1) / 3;
    expect(relative[0]).toBeCloseTo(mean, 12);
    const variance = ((0.8 - mean) ** 2 + 2 * (1 - mean) ** 2) / (3 - 5 / 3);
    expect(spread[0]).toBeCloseTo(Math.sqrt(variance), 12);
    expect(error[0]).toBeCloseTo(Math.sqrt(variance / (9 / 5)), 12);
  });

  it('draw a cell of two years toward the field, by three years', () => {
    const { spread, error } = relativeYield([f(90, 110, 100, 100), f(110, 90, 100, 100)], f(1, 1, 1, 1));
    const own = 0.02;
    const pooled = own / 2;
    expect(spread[0] ** 2).toBeCloseTo(own, 12);
    expect(error[0] ** 2).toBeCloseTo((own + 3 * pooled) / 4 / 2, 12);
    expect(error[2] ** 2).toBeCloseTo((3 * pooled) / 4 / 2, 12);
  });

  it('say of one year only how well it was measured, and say so', () => {
    const one = yearsTogether([{ values: f(90, 110), error: f(9, 11), weight: 1 }], f(1, 1));
    expect(one.errorFrom).toBe('measurement in one year');
    expect(one.error[0]).toBeCloseTo(0.09, 12);
    expect(one.spread[0]).toBeNaN();
    expect(relativeYield([f(90, 110)], f(1, 1)).errorFrom).toBe('not known');
  });
});

describe('patterns brought to one spread', () => {
  it('weigh a dry year of strong pattern and a wet year of faint one alike', () => {
    const area = f(1, 1);
    const alike = yearsTogether(counted(f(60, 140), f(95, 105)), area, { by: 'spread' });
    // 0.4 and 0.05 about the level become both their mean, 0.225.
    expect(alike.relative[0]).toBeCloseTo(1 - 0.225, 12);
    expect(alike.spread[0]).toBeCloseTo(0, 12);
  });
});

describe('the agreement of years', () => {
  it('is the correlation with the mean of the others', () => {
    const area = f(1, 1, 1);
    const agreement = yearAgreement([f(90, 100, 110), f(45, 50, 55), f(11, 10, 9)], [100, 50, 10], area);
    // The first two against one that runs the other way: 0.9 1 1.1 with 0.9 1.1 averaged to 1 everywhere has no spread.
    expect(agreement[2]).toBeCloseTo(-1, 12);
    expect(correlation(f(1, 2, 3), f(2, 4, 6), area)).toBeCloseTo(1, 12);
    expect(correlation(f(1, 1, 1), f(2, 4, 6), area)).toBeNaN();
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
