import { describe, expect, it } from 'vitest';
import { guessSoilColumn, guessSoilLabel } from '../../../src/engine/layers/guess-soil-columns.ts';
import { guessUnit } from '../../../src/engine/layers/guess-unit.ts';
import { table } from './small-source.ts';

const named = (...names: string[]) => table(Object.fromEntries(names.map((name) => [name, [1, 2]])));

describe('the column that says what the ground can yield', () => {
  it.each([
    ['corn', ['AREASYM', 'CORN_BU'], 'CORN_BU', 'yield'],
    ['corn', ['corn yield'], 'corn yield', 'yield'],
    ['Corn', ['Yield Corn (bu/ac)'], 'Yield Corn (bu/ac)', 'yield'],
    ['soybean', ['SOYBEAN_BU'], 'SOYBEAN_BU', 'yield'],
    ['Soybeans', ['SOYBEAN_BU'], 'SOYBEAN_BU', 'yield'],
    ['soybean', ['CORN_BU', 'SOY_BU'], 'SOY_BU', 'yield'],
    ['corn', ['Yield_Rating'], 'Yield_Rating', 'yield'],
    ['corn', ['nccpi3corn'], 'nccpi3corn', 'index'],
    ['corn', ['NCCPI3SOY', 'NCCPI3CORN'], 'NCCPI3CORN', 'index'],
    ['soybean', ['NCCPI3CORN', 'NCCPI3SOY'], 'NCCPI3SOY', 'index'],
    ['wheat', ['NCCPI3CORN', 'NCCPI3ALL'], 'NCCPI3ALL', 'index'],
    ['corn', ['aws0_150', 'CSR2'], 'CSR2', 'index'],
    ['corn', ['AWS0150WTA'], 'AWS0150WTA', 'index'],
    ['corn', ['rootznaws'], 'rootznaws', 'index'],
    ['corn', ['PI'], 'PI', 'index'],
    ['corn', ['Productivity Index'], 'Productivity Index', 'index'],
    ['corn', ['available water (in)'], 'available water (in)', 'index'],
  ])('for %s among %j is %s, a %s', (crop, names, column, meaning) => {
    expect(guessSoilColumn(named(...names), crop)).toEqual({ column, meaning, where: null });
  });

  it.each([
    [['AREA', 'SHAPE_LEN', 'SLOPE']],
    [['SOYBEAN_BU']],
    [['corn_price']],
    [['PIECES']],
    [['corn_buffer_ph']],
  ])('for corn is not among %j', (names) => {
    expect(guessSoilColumn(named(...names), 'corn')).toBeNull();
  });

  it('is not one without a single value, nor one of text', () => {
    expect(guessSoilColumn(table({ CORN_BU: [null, null] }), 'corn')).toBeNull();
    expect(guessSoilColumn(table({ CORN_BU: ['high', 'low'] }), 'corn')).toBeNull();
  });

  it('in a table of yields by crop is the rating, for the rows of the crop', () => {
    const yields = table({
      mukey: [1, 1],
      cropname: ['Corn', 'Soybeans'],
      nonirryield_r: [150, 45],
    });
    expect(guessSoilColumn(yields, 'soybean')).toEqual({
      column: 'nonirryield_r',
      meaning: 'yield',
      where: { column: 'cropname', equals: 'Soybeans' },
    });
    expect(guessSoilColumn(yields, 'wheat')).toBeNull();
  });
});

describe('the column that names map units', () => {
  it('is the symbol, else any text', () => {
    expect(guessSoilLabel(table({ MUNAME: ['a'], MUSYM: ['b'] }))).toBe('MUSYM');
    expect(guessSoilLabel(table({ n: [1], Series: ['a'] }))).toBe('Series');
    expect(guessSoilLabel(table({ n: [1] }))).toBeNull();
  });
});

describe('the unit a column name tells', () => {
  it.each([
    ['Yield (bu/ac)', 'bu/ac'],
    ['dry yield bu/ac', 'bu/ac'],
    ['yield_dry_t_ha', 't/ha'],
    ['kg/ha', 'kg/ha'],
    ['Yield lbs per acre', 'lb/ac'],
    ['Flow (lb/s)', 'lb/s'],
    ['Speed_mph', 'mi/h'],
    ['Swath ft', 'ft'],
    ['Distance (in)', 'in'],
    ['Moisture (%)', '%'],
    ['moisture', '%'],
    ['Longitude', '°'],
    ['rate_ksds_ac', 'seeds/ac'],
    ['elev_m', 'm'],
    ['area_ha', 'ha'],
    ['name', ''],
    ['status', ''],
    ['min', ''],
  ])('%s: %s', (name, unit) => {
    expect(guessUnit(name)).toBe(unit);
  });
});
