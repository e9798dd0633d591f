import { expect, it } from 'vitest';
import { speedChange } from '../../../../src/engine/harvest/rules/speed-change.ts';
import { judged } from '../judged.ts';
import { smallLog } from '../small-log.ts';

it('sets aside what changes by over a quarter in a second', () => {
  const speed_mPerS = [2, 2.4, 1.9, 1.4, 2, 2];
  expect(judged(speedChange, smallLog(6, { speed_mPerS, time_s: [0, 1, 2, 3, 4, 5] }))).toEqual([3, 4]);
});

it('allows twice as much in two seconds', () => {
  const speed_mPerS = [2, 2, 1.4, 2.2];
  expect(judged(speedChange, smallLog(4, { speed_mPerS, time_s: [0, 2, 4, 6] }))).toEqual([3]);
});

it('compares within a pass, and needs speeds', () => {
  const speed_mPerS = [2, 2, 1, 1];
  expect(judged(speedChange, smallLog(4, { speed_mPerS, time_s: [0, 1, 60, 61] }))).toEqual([]);
  expect(judged(speedChange, smallLog(4))).toBeNull();
});
