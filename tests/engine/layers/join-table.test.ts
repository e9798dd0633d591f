import { describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/engine/issue.ts';
import { joinTable } from '../../../src/engine/layers/join-table.ts';
import { numberColumn } from '../../../src/engine/layers/number-column.ts';
import { table } from './small-source.ts';

const plain = { polygonKey: 'MUKEY', tableKey: 'mukey', where: null };

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
    [{ ...plain, polygonKey: 'KEY' }, 'corn'],
    [{ ...plain, tableKey: 'key' }, 'corn'],
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
