import { describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/engine/issue.ts';
import { joinTables, type TableStep } from '../../../src/engine/layers/join-tables.ts';
import { numberColumn } from '../../../src/engine/layers/number-column.ts';
import type { Source } from '../../../src/engine/layers/source.ts';
import { table } from './small-source.ts';

const plain = { fromKey: 'MUKEY', toKey: 'mukey', where: null, weight: null, depth: null };

function joinTable(
  polygons: Source,
  rows: Source,
  step: Omit<TableStep, 'table'>,
  column: string,
  effect: string,
) {
  const { values, setAside } = joinTables(polygons, [{ ...step, table: rows }], column, effect);
  return { values, setAside: setAside[0] };
}

describe('a column of a table looked up for every polygon', () => {
  it('takes keys kept as numbers and as text for the same', () => {
    const polygons = table({ MUKEY: ['10', ' 20 ', '30.0', '40'] });
    const ratings = table({ mukey: [30, 10, 20, 99], corn: [130, 110, 120, 1] });
    const joined = joinTable(polygons, ratings, plain, 'corn', 'none');
    expect(Array.from(joined.values)).toEqual([110, 120, 130, NaN]);
    expect(joined.setAside).toEqual({ 'no-polygon': 1 });
  });

  it('keeps leading zeros and letters of a key', () => {
    const polygons = table({ MUKEY: ['007', '7', 'Bo2'] });
    const ratings = table({ mukey: ['7', '007', 'bo2'], corn: [70, 7, 1] });
    expect(Array.from(joinTable(polygons, ratings, plain, 'corn', 'none').values)).toEqual([7, 70, NaN]);
  });

  it('takes the mean of several rows of a key, passing over blanks', () => {
    const polygons = table({ MUKEY: [1, 2] });
    const ratings = table({ mukey: [1, 1, 1, 2], corn: [100, 200, null, null] });
    const joined = joinTable(polygons, ratings, plain, 'corn', 'none');
    expect(Array.from(joined.values)).toEqual([150, NaN]);
    expect(joined.setAside).toEqual({ 'no-value': 2 });
  });

  it('takes only rows of the crop asked for, whatever its case, and accounts for the others', () => {
    const polygons = table({ MUKEY: [1] });
    const ratings = table({ mukey: [1, 1, 2], corn: [150, 40, 160], cropname: ['Corn ', 'Wheat', 'corn'] });
    const joined = joinTable(
      polygons,
      ratings,
      { ...plain, where: { column: 'cropname', equals: 'CORN' } },
      'corn',
      'none',
    );
    expect(Array.from(joined.values)).toEqual([150]);
    expect(joined.setAside).toEqual({ 'filtered-out': 1, 'no-polygon': 1 });
  });

  it('never joins a polygon without a key to rows without one', () => {
    const polygons = table({ MUKEY: ['1', null] });
    const ratings = table({ mukey: ['1', null], corn: [100, 999] });
    const joined = joinTable(polygons, ratings, plain, 'corn', 'none');
    expect(Array.from(joined.values)).toEqual([100, NaN]);
    expect(joined.setAside).toEqual({ 'no-polygon': 1 });
  });

  it.each([
    [{ ...plain, fromKey: 'KEY' }, 'corn'],
    [{ ...plain, toKey: 'key' }, 'corn'],
    [{ ...plain, where: { column: 'crop', equals: 'corn' } }, 'corn'],
    [plain, 'soy'],
  ])('refuses a column that is not there', (join, column) => {
    const polygons = table({ MUKEY: [1] }, 'soils.shp');
    const ratings = table({ mukey: [1], corn: [100] }, 'ratings.csv');
    const attempt = () => joinTable(polygons, ratings, join, column, 'The soils are not used');
    expect(attempt).toThrow(Refusal);
    expect(attempt).toThrow(/no column/);
  });
});

describe('a chain of tables', () => {
  const polygons = table({ musym: ['A', 'B', 'C'] });
  const units = table({ musym: ['A', 'B', 'C', 'Z'], mukey: [1, 2, 3, 9] });
  const components = table({
    mukey: [1, 1, 2, 2, 3],
    cokey: ['1:a', '1:b', '2:a', '2:b', '3:a'],
    pct: [80, 20, 60, 40, 100],
  });
  const bySymbol = { ...plain, table: units, fromKey: 'musym', toKey: 'musym' };
  const byUnit = { ...plain, table: components, fromKey: 'mukey', toKey: 'mukey', weight: 'pct' };

  it('weighs components by their percent, and leaves out the weight of one without a value', () => {
    const water = table({ cokey: ['1:a', '1:b', '2:a'], aws: [10, 20, 6] });
    const { values, setAside } = joinTables(
      polygons,
      [bySymbol, byUnit, { ...plain, table: water, fromKey: 'cokey', toKey: 'cokey' }],
      'aws',
      'none',
    );
    // Unit 1: (80 · 10 + 20 · 20) / 100; unit 2 has a value for one component only; unit 3 for none.
    expect(Array.from(values)).toEqual([12, 6, NaN]);
    expect(setAside).toEqual([{ 'no-polygon': 1, 'no-value': 1 }, { 'no-value': 2 }, {}]);
  });

  it('averages horizons by how much of the depth they fill', () => {
    const horizons = table({
      cokey: ['1:a', '1:a', '1:a', '1:b'],
      top: [0, 20, 60, 0],
      bottom: [20, 60, 150, 30],
      om: [4, 2, 1, 3],
    });
    const depth = { top: 'top', bottom: 'bottom', from_cm: 0, to_cm: 30, how: 'mean' as const };
    const { values, setAside } = joinTables(
      polygons,
      [bySymbol, byUnit, { ...plain, table: horizons, fromKey: 'cokey', toKey: 'cokey', depth }],
      'om',
      'none',
    );
    const first = (20 * 4 + 10 * 2) / 30;
    expect(values[0]).toBeCloseTo(0.8 * first + 0.2 * 3, 12);
    expect(setAside[2]).toEqual({ 'outside-depth': 1 });
  });

  describe('of horizons', () => {
    // Horizons of two components of one unit, 60 and 40 percent of it.
    const unit = table({ mukey: [1] });
    const parts = table({ mukey: [1, 1], cokey: ['a', 'b'], comppct_r: [60, 40] });
    const horizons = (awc: (number | null)[]) =>
      table({
        cokey: ['a', 'a', 'a', 'b', 'b'],
        top: [0, 20, 60, 0, 25],
        bottom: [20, 60, 150, 25, 80],
        awc_r: awc,
      });
    const water = (
      awc: (number | null)[],
      to_cm: number,
      how: 'mean' | 'sum',
      weight: string | null = null,
    ) =>
      joinTables(
        unit,
        [
          { ...plain, fromKey: 'mukey', table: parts, weight: 'comppct_r' },
          {
            ...{ ...plain, fromKey: 'cokey', toKey: 'cokey', weight, table: horizons(awc) },
            depth: { top: 'top', bottom: 'bottom', from_cm: 0, to_cm, how },
          },
        ],
        'awc_r',
        'none',
      );
    const awc = [0.22, 0.2, 0.16, 0.18, 0.1];

    it.each([
      // a: 20 · .22 + 10 · .20 = 6.4 cm; b: 25 · .18 + 5 · .10 = 5.0 cm.
      [30, 0.6 * 6.4 + 0.4 * 5],
      // a: 4.4 + 40 · .20 + 40 · .16 = 18.8 cm; b, which ends at 80 cm: 4.5 + 55 · .10 = 10 cm.
      [100, 0.6 * 18.8 + 0.4 * 10],
    ])('water held to %i cm is the sum of awc times thickness', (to_cm, held_cm) => {
      expect(water(awc, to_cm, 'sum').values[0]).toBeCloseTo(held_cm, 12);
    });

    it('and the mean of it is over the depth that horizons fill', () => {
      expect(water(awc, 100, 'mean').values[0]).toBeCloseTo(0.6 * (18.8 / 100) + 0.4 * (10 / 80), 12);
    });

    it('a sum without one of its horizons is not known, and its component does not count; a mean goes by the others', () => {
      const lacking = [0.22, null, 0.16, 0.18, 0.1];
      const sum = water(lacking, 100, 'sum');
      expect(sum.values[0]).toBeCloseTo(10, 12);
      expect(sum.setAside).toEqual([{ 'no-value': 1 }, { 'no-value': 1, 'sum-incomplete': 2 }]);
      // To 20 cm the horizon that is not known is not asked for.
      expect(water(lacking, 20, 'sum').values[0]).toBeCloseTo(0.6 * 4.4 + 0.4 * 3.6, 12);
      const first = (20 * 0.22 + 40 * 0.16) / 60;
      expect(water(lacking, 100, 'mean').values[0]).toBeCloseTo(0.6 * first + 0.4 * (10 / 80), 12);
    });

    it('a horizon whose depth is not known leaves the sum not known', () => {
      const deep = table({ key: [1, 1, 2], top: [0, 20, 0], bottom: [20, null, 30], awc_r: [0.2, 0.2, 0.1] });
      const { values, setAside } = joinTables(
        table({ key: [1, 2] }),
        [
          {
            ...{ ...plain, fromKey: 'key', toKey: 'key', table: deep },
            depth: { top: 'top', bottom: 'bottom', from_cm: 0, to_cm: 50, how: 'sum' },
          },
        ],
        'awc_r',
        'none',
      );
      expect(Array.from(values)).toEqual([NaN, 3]);
      expect(setAside).toEqual([{ 'no-depth': 1, 'sum-incomplete': 1 }]);
    });

    it('a sum is not weighted', () => {
      expect(() => water(awc, 30, 'sum', 'awc_r')).toThrow(Refusal);
    });
  });

  it('gives every row of every table one account', () => {
    const { setAside } = joinTables(polygons, [bySymbol, byUnit], 'pct', 'none');
    expect(setAside).toEqual([{ 'no-polygon': 1 }, {}]);
  });
});

describe('a column of numbers', () => {
  it('is refused when it holds text, naming the columns that do not', () => {
    const source = table({ name: ['a'], corn: [1] });
    try {
      numberColumn(source, 'name', 'none');
      expect.unreachable();
    } catch (thrown) {
      expect(thrown).toBeInstanceOf(Refusal);
      expect((thrown as Refusal).issue).toMatchObject({
        code: 'column-not-numbers',
        expected: 'one of corn',
      });
    }
  });
});
