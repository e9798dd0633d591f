import { expect, it } from 'vitest';
import { moistureRange } from '../../../../src/engine/harvest/rules/moisture-range.ts';
import { judged } from '../judged.ts';
import { smallLog } from '../small-log.ts';

it('sets aside corn under 8 or over 40 %', () => {
  const moisture_pct = [7.9, 8, 18, 40, 40.1, NaN];
  expect(judged(moistureRange, smallLog(6, { moisture_pct, crop: 'Corn' }))).toEqual([0, 4]);
  expect(judged(moistureRange, smallLog(6, { moisture_pct, crop: 'corn' }), { margin_pct: 1 })).toEqual([]);
});

it('is not tried for a crop not told or not known, or without moisture', () => {
  const moisture_pct = [0, 0];
  expect(judged(moistureRange, smallLog(2, { moisture_pct }))).toBeNull();
  expect(judged(moistureRange, smallLog(2, { moisture_pct, crop: 'alfalfa' }))).toBeNull();
  expect(judged(moistureRange, smallLog(2, { crop: 'corn' }))).toBeNull();
});
