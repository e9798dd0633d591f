import { expect, it } from 'vitest';
import { passStart } from '../../../../src/engine/harvest/rules/pass-start.ts';
import { drivenPasses } from '../driven-passes.ts';
import { judged } from '../judged.ts';
import { smallLog } from '../small-log.ts';

it('sets aside the first four seconds of every pass', () => {
  const log = drivenPasses({ passes: 2, records: 10 });
  expect(judged(passStart, log)).toEqual([0, 1, 2, 3, 10, 11, 12, 13]);
  expect(judged(passStart, log, { seconds: 2 })).toEqual([0, 1, 10, 11]);
  expect(judged(passStart, log, { seconds: 0 })).toEqual([]);
});

it('counts seconds, not records', () => {
  expect(judged(passStart, smallLog(6, { time_s: [0, 2, 4, 6, 8, 10] }))).toEqual([0, 1]);
});

it('starts where the header goes down', () => {
  expect(
    judged(
      passStart,
      smallLog(8, { header: [0, 0, 1, 1, 1, 1, 1, 1] }),
      { seconds: 3 },
      [0, 0, 1, 1, 1, 1, 1, 1],
    ),
  ).toEqual([2, 3, 4]);
});

it('keeps a corner cut with the header down: grain never stopped', () => {
  // Thirty metres north, then thirty east.
  const x_m = Array.from({ length: 31 }, (_, i) => Math.max(0, 2 * i - 30));
  const y_m = Array.from({ length: 31 }, (_, i) => Math.min(30, 2 * i));
  expect(judged(passStart, smallLog(31, { x_m, y_m }))).toEqual([0, 1, 2, 3]);
});
