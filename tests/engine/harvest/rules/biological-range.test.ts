import { expect, it } from 'vitest';
import { biologicalRange } from '../../../../src/engine/harvest/rules/biological-range.ts';
import { judged } from '../judged.ts';
import { smallLog } from '../small-log.ts';

it('sets aside corn under 5 or over 450 bu/ac, whatever the unit it is written in', () => {
  // In t/ha, one of which is 15.93 bu/ac of 56 lb.
  const log = smallLog(4, { value: [0.3, 0.4, 28, 29], crop: 'corn', buPerAcPerValue: 15.93 });
  expect(judged(biologicalRange, log)).toEqual([0, 3]);
  expect(judged(biologicalRange, log, { stretch: 2 })).toEqual([]);
});

it('is not tried where the unit or the crop is not known', () => {
  expect(judged(biologicalRange, smallLog(2, { crop: 'corn' }))).toBeNull();
  expect(judged(biologicalRange, smallLog(2, { crop: 'alfalfa', buPerAcPerValue: 1 }))).toBeNull();
});
