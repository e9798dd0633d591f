import { describe, expect, it } from 'vitest';
import { guessYear, guessYieldColumn } from '../../../src/engine/harvest/guess-yield-column.ts';
import { table } from '../layers/small-source.ts';

const with_ = (values: readonly number[], ...names: string[]) =>
  table(Object.fromEntries(names.map((name) => [name, values])));

describe('the column of yield', () => {
  it.each([
    [['Distance', 'Yield', 'Moisture'], 'Yield'],
    [['Yld Mass(Wet)(lb/ac)', 'Yld Vol(Dry)(bu/ac)', 'Yld Vol(Wet)(bu/ac)'], 'Yld Vol(Dry)(bu/ac)'],
    [['Yld Mass(Dry)(lb/ac)', 'Yld Vol(Dry)(bu/ac)'], 'Yld Vol(Dry)(bu/ac)'],
    [['WET_YIELD', 'DRY_YIELD'], 'DRY_YIELD'],
    [['wet yield', 'yield'], 'yield'],
    [['Target_Yield', 'yield_id', 'Yield_Rank', 'dry_yield'], 'dry_yield'],
    [['yield_pct', 'yield_flag', 'Yield_t_ha'], 'Yield_t_ha'],
    [['grain yield'], 'grain yield'],
  ])('among %j is %s', (names, column) => {
    expect(guessYieldColumn(with_([180, 200], ...names), 'corn')?.column).toBe(column);
  });

  it('is none where nothing is called yield, or only in text', () => {
    expect(guessYieldColumn(with_([180], 'Flow', 'Moisture', 'Yield_Target'), 'corn')).toBeNull();
    expect(guessYieldColumn(table({ yield: ['high'] }), 'corn')).toBeNull();
  });
});

describe('the unit of yield, by its name', () => {
  it.each([
    ['Yield (bu/ac)', 'bu/ac'],
    ['Yld_BuAc', 'bu/ac'],
    ['YLD_BU_A', 'bu/ac'],
    ['yield bu per acre', 'bu/ac'],
    ['Yield bushels per acre', 'bu/ac'],
    ['Dry Yield bu/ac 2024', 'bu/ac'],
    ['Yield (lb/ac)', 'lb/ac'],
    ['Yield lbs per acre', 'lb/ac'],
    ['YIELD_KGHA', 'kg/ha'],
    ['yield kg/ha', 'kg/ha'],
    ['Yield kg per hectare', 'kg/ha'],
    ['yield_dry_t_ha', 't/ha'],
    ['Yield (t/ha) dry', 't/ha'],
    ['Yield (tonnes/ha)', 't/ha'],
    ['YieldTHa', 't/ha'],
  ])('%s is in %s', (name, unit) => {
    // A crop of which nothing is known here, so that only the name can tell.
    expect(guessYieldColumn(with_([1e9], name), 'quinoa')).toEqual({
      column: name,
      unit,
      because: `named ${name}`,
    });
  });

  it.each(['Yield at harvest', 'WeightHarvestYield', 'yield with moisture', 'Yield'])(
    '%s tells none',
    (name) => {
      expect(guessYieldColumn(with_([1e9], name), 'corn')?.unit).toBe('unknown');
    },
  );
});

describe('the unit of yield, by its figures', () => {
  it.each([
    ['corn', [150, 190, 230], 'bu/ac'],
    ['corn', [9, 11, 14], 't/ha'],
    ['Soybeans', [45, 55, 60], 'bu/ac'],
    ['soybean', [3, 3.6, 4], 't/ha'],
    // A tonne a hectare either way: 10,000 lb/ac and 10,000 kg/ha are both corn.
    ['corn', [9000, 10_000, 11_000], 'unknown'],
    ['corn', [0.5, 0.6], 'unknown'],
    ['quinoa', [30, 40], 'unknown'],
  ])('of %s around %j is %s', (crop, values, unit) => {
    expect(guessYieldColumn(with_(values, 'Yield'), crop)?.unit).toBe(unit);
  });

  it('does not mind zeros, blanks and negative values among them', () => {
    const source = table({ Yield: [0, 0, 0, 0, null, -5, 180, 190] });
    expect(guessYieldColumn(source, 'corn')?.unit).toBe('bu/ac');
  });
});

describe('the year of a file', () => {
  it('is that of a column of one year, else of the name', () => {
    expect(guessYear(table({ Year: [2023, 2023] }, 'yield-2019.csv'))).toBe(2023);
    expect(guessYear(table({ Year: [2022, 2023] }, 'yield-2019.csv'))).toBe(2019);
    expect(guessYear(table({ Year: [12, 12] }, 'north.csv'))).toBeNull();
    expect(guessYear(table({ a: [1] }, 'harvest_2024_final.zip › a.shp'))).toBe(2024);
    expect(guessYear(table({ a: [1] }, 'field 120245.csv'))).toBeNull();
  });
});
