import { expect, it } from 'vitest';
import { passEnd } from '../../../../src/engine/harvest/rules/pass-end.ts';
import { drivenPasses } from '../driven-passes.ts';
import { judged } from '../judged.ts';
import { smallLog } from '../small-log.ts';

it('sets aside the last four seconds of every pass', () => {
  expect(judged(passEnd, drivenPasses({ passes: 2, records: 10 }))).toEqual([6, 7, 8, 9, 16, 17, 18, 19]);
});

it('ends where the header goes up', () => {
  expect(
    judged(
      passEnd,
      smallLog(8, { header: [1, 1, 1, 1, 1, 1, 0, 0] }),
      { seconds: 2 },
      [1, 1, 1, 1, 1, 1, 0, 0],
    ),
  ).toEqual([4, 5]);
});

it('keeps a corner cut with the header down', () => {
  const x_m = Array.from({ length: 31 }, (_, i) => Math.max(0, 2 * i - 30));
  const y_m = Array.from({ length: 31 }, (_, i) => Math.min(30, 2 * i));
  expect(judged(passEnd, smallLog(31, { x_m, y_m }))).toEqual([27, 28, 29, 30]);
});
