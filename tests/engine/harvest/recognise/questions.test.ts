import { describe, expect, it } from 'vitest';
import { recogniseColumns } from '../../../../src/engine/harvest/recognise/recognise-columns.ts';
import type { Told } from '../../../../src/engine/harvest/recognise/told.ts';
import { type Drive, drive, type Header, pointFile } from './small-log.ts';

const corn: Drive = { crop: 'corn', yield_buPerAc: 190, moisture_pct: 19, swath_m: 6.096 };

function seen(of: Drive, header: Header, planned: string = of.crop, told: Told = {}) {
  const found = recogniseColumns(pointFile(drive(of), header), planned, told);
  return {
    found,
    asked: found.questions.map(({ about, options, proposed }) => ({
      about,
      options: options.map(({ value }) => value),
      proposed: options[proposed].value,
    })),
  };
}

describe('two readings that are both plausible', () => {
  it('are asked about: kg/ha and lb/ac differ by an eighth', () => {
    const { found, asked } = seen(corn, { Yield: 'kg/ha dry' });
    expect(found.columns.yield).toEqual({ column: 'Yield', unit: 'unknown' });
    expect(asked).toEqual([{ about: 'yield unit', options: ['lb/ac', 'kg/ha'], proposed: 'lb/ac' }]);
  });

  it('are settled by the units of the other columns', () => {
    const metric = seen(corn, { Yield: 'kg/ha dry', 'Speed (km/h)': 'km/h', 'Width (m)': 'm swath' });
    expect([metric.found.columns.yield?.unit, metric.asked]).toEqual(['kg/ha', []]);
    const us = seen(corn, { Yield: 'lb/ac dry', 'Speed (mph)': 'mph', 'Width (ft)': 'ft swath' });
    expect([us.found.columns.yield?.unit, us.asked]).toEqual(['lb/ac', []]);
    const mixed = seen(corn, { Yield: 'lb/ac dry', 'Speed (km/h)': 'km/h', 'Width (ft)': 'ft swath' });
    expect(mixed.asked.map(({ about }) => about)).toEqual(['yield unit']);
  });

  it('are asked about: two columns of yield, each as good', () => {
    const { found, asked } = seen(corn, { 'Yield A (bu/ac)': 'bu/ac dry', 'Yield B (bu/ac)': 'bu/ac wet' });
    expect(found.columns.yield).toBeNull();
    expect(asked).toEqual([
      { about: 'yield column', options: ['Yield A (bu/ac)', 'Yield B (bu/ac)'], proposed: 'Yield A (bu/ac)' },
    ]);
    const settled = seen(corn, { 'Yield A (bu/ac)': 'bu/ac dry', 'Yield B (bu/ac)': 'bu/ac wet' }, 'corn', {
      columns: { yield: { column: 'Yield B (bu/ac)' } },
    });
    expect([settled.found.columns.yield?.column, settled.asked]).toEqual(['Yield B (bu/ac)', []]);
  });

  it('are asked about: dry or wet, where neither name nor physics says', () => {
    const { found, asked } = seen(corn, { 'Yield (bu/ac)': 'bu/ac dry', 'Moisture (%)': '%' });
    expect(found.basis).toBe('unknown');
    expect(asked).toEqual([{ about: 'moisture basis', options: ['dry', 'wet'], proposed: 'dry' }]);
    // At the moisture it is sold at it makes no difference.
    const even = seen({ ...corn, moisture_pct: 15.5 }, { 'Yield (bu/ac)': 'bu/ac dry', 'Moisture (%)': '%' });
    expect(even.asked).toEqual([]);
    const told = seen(corn, { 'Yield (bu/ac)': 'bu/ac dry', 'Moisture (%)': '%' }, 'corn', { basis: 'wet' });
    expect([told.found.basis, told.asked]).toEqual(['wet', []]);
  });

  it('are asked about: corn or soybean, by the figures', () => {
    const soy: Drive = { crop: 'soybean', yield_buPerAc: 58, moisture_pct: 13, swath_m: 9.144 };
    expect(seen(soy, { 'Yield (bu/ac)': 'bu/ac dry' }, 'corn').asked).toEqual([
      { about: 'crop', options: ['corn', 'soybean', 'wheat'], proposed: 'corn' },
    ]);
    // Flow and ground know the weight of the bushel.
    const log = {
      'Yield (bu/ac)': 'bu/ac dry',
      'Flow (lb/s)': 'lb/s',
      'Dist (ft)': 'ft dist',
      'Swath (ft)': 'ft swath',
      'Moisture (%)': '%',
    } as const;
    expect(seen({ ...soy, moisture_pct: 16 }, log, 'corn').asked[0]).toMatchObject({
      about: 'crop',
      proposed: 'soybean',
    });
    expect(seen({ ...soy, yield_buPerAc: 25 }, { 'Yield (bu/ac)': 'bu/ac dry' }, 'corn').asked).toEqual([
      { about: 'crop', options: ['soybean', 'unknown'], proposed: 'unknown' },
    ]);
  });

  it('are asked about: two crops in one file', () => {
    const { found, asked } = seen(corn, {
      Crop: (r) => (r.time_s < 200 ? 'Soybeans' : 'Corn'),
      'Dry yield bu/ac': 'bu/ac dry',
    });
    expect(asked).toEqual([{ about: 'crop', options: ['Corn', 'Soybeans'], proposed: 'Corn' }]);
    expect(found.crop).toMatchObject({ crop: 'corn', level: 'Corn' });
  });

  it('are asked about: a width of 12, in feet or metres', () => {
    const { asked } = seen({ ...corn, swath_m: 12 }, { 'Dry yield bu/ac': 'bu/ac dry', Swath: 'm swath' });
    expect(asked).toEqual([{ about: 'swath unit', options: ['ft', 'm'], proposed: 'ft' }]);
  });

  it('are asked about: two speeds that are not one', () => {
    const { found, asked } = seen(corn, {
      'Speed 1 (mph)': 'mph',
      'Speed 2 (mph)': 'day s',
      'Dry yield bu/ac': 'bu/ac dry',
    });
    expect([found.columns.speed?.column, asked]).toEqual(['Speed 1 (mph)', []]);
    const two = seen(corn, { 'Speed 1': 'mph', 'Speed 2': 'ft dist', 'Dry yield bu/ac': 'bu/ac dry' });
    expect(two.asked.map(({ about }) => about)).toEqual(['speed column']);
  });
});

describe('a name that the rest of the file contradicts', () => {
  const log = { 'Flow (lb/s)': 'lb/s', 'Moisture (%)': '%', 'Dry yield (bu/ac)': 'bu/ac dry' } as const;
  const why = (header: Header) =>
    seen(corn, header).found.questions.map(({ about, options }) => [about, options.at(-1)?.because]);

  it('is asked about: a distance in feet that is metres by the places', () => {
    const { asked } = seen(corn, { ...log, 'Distance (ft)': 'm dist', 'Swath (ft)': 'ft swath' });
    expect(asked).toEqual([{ about: 'distance unit', options: ['ft', 'm'], proposed: 'ft' }]);
  });

  it('is asked about: a yield 12 times what a swath in feet makes of it, 2.2046 for a flow in kilograms', () => {
    expect(why({ ...log, 'Distance (ft)': 'ft dist', 'Swath (ft)': 'in swath' })).toEqual([
      ['yield unit', expect.stringMatching(/^it is 12.0 times .* feet and inches/)],
    ]);
    expect(
      why({ ...log, 'Flow (lb/s)': 'kg/s', 'Distance (ft)': 'ft dist', 'Swath (ft)': 'ft swath' }),
    ).toEqual([['yield unit', expect.stringMatching(/^it is 2.20 times .* pounds and kilograms/)]]);
    expect(why({ ...log, 'Distance (ft)': 'ft dist', 'Swath (ft)': 'm swath' })).toEqual([
      ['yield unit', expect.stringMatching(/^it is 0.305 times .* feet and metres/)],
    ]);
  });

  it.each([
    [9000, 'corn', ['bu/ac', 'lb/ac', 'kg/ha', 'unknown'], 'lb/ac'],
    [1800, 'corn', ['bu/ac', 'unknown'], 'unknown'],
    [10, 'corn', ['bu/ac', 't/ha', 'unknown'], 't/ha'],
    [330, 'soybean', ['bu/ac', 'unknown'], 'unknown'],
  ])('is asked about: a yield of %s bu/ac of %s, which is none', (yield_buPerAc, crop, options, proposed) => {
    const own = { ...corn, yield_buPerAc };
    const { found, asked } = seen(own, { 'Dry yield (bu/ac)': 'bu/ac dry' }, crop, { crop });
    expect(asked).toEqual([{ about: 'yield unit', options, proposed }]);
    expect(found.columns.yield).toEqual({ column: 'Dry yield (bu/ac)', unit: 'unknown' });
    expect(found.questions[0].options[0].because).toMatch(/^its name says so, though .* is no /);
    // What flow and ground make, it is, and what a person says.
    const ground = { 'Distance (ft)': 'ft dist', 'Swath (ft)': 'ft swath' } as const;
    expect(seen(own, { ...log, ...ground }, 'corn', { crop: 'corn' }).found.columns.yield?.unit).toBe(
      'bu/ac',
    );
    const said = { crop, columns: { yield: { column: 'Dry yield (bu/ac)', unit: 'bu/ac' } } };
    const again = seen(own, { 'Dry yield (bu/ac)': 'bu/ac dry' }, crop, said);
    expect([again.found.columns.yield?.unit, again.asked]).toEqual(['bu/ac', []]);
  });

  it('is not asked about where another crop may give so much', () => {
    const low = { ...corn, yield_buPerAc: 25 };
    expect(seen(low, { 'Dry yield (bu/ac)': 'bu/ac dry' }).asked.map(({ about }) => about)).toEqual(['crop']);
    expect(seen(low, { 'Dry yield (bu/ac)': 'bu/ac dry' }, 'corn', { crop: 'corn' }).asked).toHaveLength(1);
  });

  it('is asked about: a dry yield that is wet by the physics', () => {
    const { found, asked } = seen(corn, {
      ...log,
      'Dry yield (bu/ac)': 'bu/ac wet',
      'Distance (ft)': 'ft dist',
      'Swath (ft)': 'ft swath',
    });
    expect(asked).toEqual([{ about: 'moisture basis', options: ['dry', 'wet'], proposed: 'dry' }]);
    // Neither is taken while it is asked.
    expect(found.basis).toBe('unknown');
  });
});

describe('a file without a yield', () => {
  it.each<[string, Header]>([
    ['nothing but places', { lon: 'lon', lat: 'lat' }],
    ['only a target', { 'Target yield (bu/ac)': 'bu/ac dry', 'Yield goal': 'bu/ac dry' }],
    [
      'an index, a rank and a potential',
      { 'Yield index': 'fraction', yield_rank: 'pass', 'Yield potential bu/ac': 'bu/ac dry' },
    ],
    ['flow alone', { 'Flow (lb/s)': 'lb/s', Moisture: '%' }],
    ['yield in text', { Yield: () => 'high' }],
    ['names that mean nothing', { a: 'bu/ac dry', b1: 'lb/s', '1.5': '%', '': 'mph' }],
  ])('has none: %s', (_, header) => {
    const { found } = seen(corn, header);
    expect([found.columns.yield, found.yieldReading, found.candidates.yield]).toEqual([null, null, []]);
    expect(found.questions.filter(({ about }) => about.startsWith('yield') || about === 'crop')).toEqual([]);
  });

  it('nor has one without records, or of blanks', () => {
    const empty = recogniseColumns(
      pointFile([], { Yield: 'bu/ac dry', Flow: 'lb/s', Time: 'day s' }),
      'corn',
    );
    expect(empty.columns.yield).toBeNull();
    const one = recogniseColumns(
      pointFile(drive({ ...corn, records: 1 }), { 'Yield bu/ac': 'bu/ac dry', Time: 'day s' }),
      'corn',
    );
    expect(one.columns.yield).toEqual({ column: 'Yield bu/ac', unit: 'bu/ac' });
  });
});
