import { describe, expect, it } from 'vitest';
import { soilChains } from '../../../src/engine/layers/soil-chains.ts';
import { table } from './small-source.ts';

// Tables as the public soil survey lays them out; the figures are invented.
const bySymbol = table({ MUSYM: ['A', 'B', 'B'] }, 'soils.shp');
const byKey = table({ MUSYM: ['A', 'B', 'B'], MUKEY: ['1', '2', '2'] }, 'soils.shp');
const mapunit = table({ musym: ['A', 'B', 'Z'], muname: ['a', 'b', 'z'], mukey: [1, 2, 9] });
const suited = table({ musym: ['A', 'B'], iacornsr: [91, 76], mukey: [1, 2] });
const aggregate = table({ musym: ['A', 'B'], aws0150wta: [27.1, 28.4], mukey: [1, 2] });
const component = table({ comppct_r: [85, 15, 90], mukey: [1, 1, 2], cokey: ['11', '12', '21'] });
const unitYield = table({
  cropname: ['Corn', 'Soybeans', 'Corn'],
  yldunits: ['Bu', 'Bu', 'Bu'],
  nonirryield_r: [150, 45, 120],
  mukey: [1, 1, 2],
});
const componentYield = table({
  cropname: ['Corn', 'Corn', 'Corn'],
  nonirryield_r: [160, 100, 120],
  cokey: ['11', '12', '21'],
});
const horizon = table({
  hzdept_r: [0, 20, 0, 0],
  hzdepb_r: [20, 150, 30, 100],
  awc_r: [0.2, 0.15, 0.1, 0.2],
  om_r: [4, 1, 2, 3],
  cokey: ['11', '11', '12', '21'],
});

const way = ([best]: ReturnType<typeof soilChains>) =>
  best && [best.column, best.measure, ...best.steps.map((step) => `${step.fromKey}→${step.table}`)];

describe('the best way from soil polygons to a value', () => {
  it.each([
    [
      'a rating of the crop',
      [aggregate, horizon, unitYield, component],
      ['nonirryield_r', 'crop yield', 'MUKEY→2'],
    ],
    [
      'a rating by component',
      [component, componentYield, aggregate],
      ['nonirryield_r', 'crop yield', 'MUKEY→0', 'cokey→1'],
    ],
    ['productivity', [aggregate, component, horizon, suited], ['iacornsr', 'productivity', 'MUKEY→3']],
    ['water held of the map unit', [component, horizon, aggregate], ['aws0150wta', 'water held', 'MUKEY→2']],
    ['water held of horizons', [mapunit, horizon, component], ['awc_r', 'water held', 'MUKEY→2', 'cokey→1']],
  ])('is by %s', (_, tables, expected) => {
    expect(way(soilChains(byKey, tables, 'corn'))).toEqual(expected);
  });

  it.each([
    [
      'by the symbol itself where the table has it',
      [mapunit, aggregate],
      ['aws0150wta', 'water held', 'MUSYM→1'],
    ],
    [
      'through the table of map units',
      [unitYield, mapunit],
      ['nonirryield_r', 'crop yield', 'MUSYM→1', 'mukey→0'],
    ],
    [
      'through map units and components to horizons',
      [horizon, component, mapunit],
      ['awc_r', 'water held', 'MUSYM→2', 'mukey→1', 'cokey→0'],
    ],
  ])('of polygons without a key goes %s', (_, tables, expected) => {
    expect(way(soilChains(bySymbol, tables, 'corn'))).toEqual(expected);
  });

  it('weighs components by their percent, sums water over depth and averages organic matter', () => {
    const chains = soilChains(byKey, [component, horizon], 'corn');
    expect(chains.map(({ column, measure, unit, covered }) => [column, measure, unit, covered])).toEqual([
      ['awc_r', 'water held', 'cm', 3],
      ['om_r', 'organic matter', '%', 3],
    ]);
    expect(chains[0].steps).toMatchObject([
      { table: 0, weight: 'comppct_r', depth: null },
      { table: 1, weight: null, depth: { top: 'hzdept_r', from_cm: 0, to_cm: 150, how: 'sum' } },
    ]);
    expect(chains[1].steps[1].depth).toMatchObject({ to_cm: 30, how: 'mean' });
  });

  it('passes over a better measure that is known for less than three quarters as much', () => {
    const four = table({ mukey: ['1', '2', '3', '4'] });
    const water = table({ mukey: [1, 2, 3, 4], aws0150wta: [25, 26, 27, 28] });
    const rated = (...mukey: number[]) =>
      table({ cropname: mukey.map(() => 'Corn'), nonirryield_r: mukey.map(() => 150), mukey });
    expect(way(soilChains(four, [rated(1, 2), water], 'corn'))?.[0]).toBe('aws0150wta');
    expect(way(soilChains(four, [rated(1, 2, 4), water], 'corn'))?.[0]).toBe('nonirryield_r');
    expect(way(soilChains(four, [rated(1)], 'corn'))?.[0]).toBe('nonirryield_r');
  });

  it('takes, of two tables alike, the one that belongs to the polygons', () => {
    const elsewhere = table({ musym: ['P', 'Q'], aws0150wta: [1, 2], mukey: [7, 8] });
    expect(way(soilChains(bySymbol, [elsewhere, aggregate], 'corn'))).toEqual([
      'aws0150wta',
      'water held',
      'MUSYM→1',
    ]);
  });

  it('does not take tons for bushels', () => {
    const tons = table({ cropname: ['Corn'], yldunits: ['Tons'], nonirryield_r: [5], mukey: [1] });
    expect(soilChains(byKey, [tons], 'corn')).toEqual([]);
  });

  it('goes to the column that is named, and says nothing of one that is not there', () => {
    const [clay] = soilChains(byKey, [component, horizon, aggregate], 'corn', 'om_r');
    expect([clay.measure, clay.steps[1].depth]).toMatchObject(['as named', { to_cm: 30, how: 'mean' }]);
    expect(soilChains(byKey, [component, horizon], 'corn', 'clay')).toEqual([]);
  });

  it.each([
    ['Bulk_Density', 'index'],
    ['buffer_ph', 'index'],
    ['Buffer pH', 'index'],
    ['CORN_BU', 'yield'],
    ['CornBuAc', 'yield'],
    ['bu/ac', 'yield'],
    ['BU_PER_AC', 'yield'],
    ['YieldRating', 'yield'],
    ['nonirryield_r', 'yield'],
  ])('takes %s, named, for what it is: %s', (column, meaning) => {
    expect(soilChains(table({ mukey: [1], [column]: [20] }), [], 'corn', column)[0]).toMatchObject({
      column,
      meaning,
    });
  });

  it.each([
    ['aws0150wta', 'cm'],
    ['aws0_150', 'mm'],
    ['rootznaws', 'mm'],
  ])('knows that %s is in %s', (column, unit) => {
    expect(soilChains(table({ mukey: [1], [column]: [200] }), [], 'corn')[0]).toMatchObject({ column, unit });
  });
});
