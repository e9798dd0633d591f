import { expect, it } from 'vitest';
import { speedRange } from '../../../../src/engine/harvest/rules/speed-range.ts';
import { judged } from '../judged.ts';
import { smallLog } from '../small-log.ts';

it('sets aside what is slower than 1.5 or faster than 8 miles an hour', () => {
  // 0.67 and 3.58 m/s.
  const speed_mPerS = [2, 0, 0.66, 0.68, 3.57, 3.58, NaN];
  expect(judged(speedRange, smallLog(7, { speed_mPerS }))).toEqual([1, 2, 5]);
  expect(judged(speedRange, smallLog(7, { speed_mPerS }), { least: 0, most: 15 })).toEqual([]);
});

it('takes the way over the time where no speed is recorded', () => {
  const time_s = [0, 1, 2, 3];
  expect(judged(speedRange, smallLog(4, { time_s, distance_m: [2, 2, 0.3, 2] }))).toEqual([2]);
  expect(judged(speedRange, smallLog(4, { time_s, y_m: [0, 2, 2.3, 4.3] }))).toEqual([2]);
});

it('is not tried where neither speed nor time is recorded', () => {
  expect(judged(speedRange, smallLog(4, { distance_m: [2, 2, 0.3, 2] }))).toBeNull();
});
