import { describe, expect, it } from 'vitest';
import { recogniseColumns } from '../../../../src/engine/harvest/recognise/recognise-columns.ts';
import { type Drive, drive, type Header, pointFile } from './small-log.ts';

const corn: Drive = { crop: 'corn', yield_buPerAc: 190, moisture_pct: 18, swath_m: 9.144 };
const us: Header = { lon: 'lon', lat: 'lat', Flow: 'lb/s', Swath: 'ft swath', Speed: 'mph', Time: 'day s' };
const metric: Header = {
  lon: 'lon',
  lat: 'lat',
  Flow: 'kg/s',
  Swath: 'm swath',
  Speed: 'km/h',
  Time: 'day s',
};

describe('a log of grain and ground without a yield, and without a word of units', () => {
  it.each([
    ['customary', us, { flow: 'lb/s', swath: 'ft', speed: 'mi/h' }],
    ['metric', metric, { flow: 'kg/s', swath: 'm', speed: 'km/h' }],
  ])('is in the one system in which corn could have given that: %s', (_, header, units) => {
    const { columns, questions } = recogniseColumns(pointFile(drive(corn), header), 'corn');
    for (const [role, unit] of Object.entries(units))
      expect(columns[role as keyof typeof units]?.unit).toBe(unit);
    expect(questions.filter(({ about }) => about.endsWith('unit'))).toEqual([]);
  });

  it('is asked about where the crop has no figures, or could have given neither', () => {
    const sugarBeet = recogniseColumns(pointFile(drive(corn), us), 'sugar beet');
    expect(sugarBeet.questions.map(({ about }) => about)).toContain('flow unit');
    // 12 bu/ac is no crop of corn, nor is what the same figures make in kilograms and metres.
    const poor = recogniseColumns(pointFile(drive({ ...corn, yield_buPerAc: 12 }), us), 'corn');
    expect(poor.questions.map(({ about }) => about)).toContain('flow unit');
  });
});
