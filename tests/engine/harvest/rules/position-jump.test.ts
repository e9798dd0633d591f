import { expect, it } from 'vitest';
import { positionJump } from '../../../../src/engine/harvest/rules/position-jump.ts';
import { judged } from '../judged.ts';
import { smallLog } from '../small-log.ts';

it('sets aside records that leap away and come back, one or some in a row', () => {
  // Two metres a record: the third is 500 m off, the fifth and sixth are where longitude and latitude are 0.
  const y_m = [0, 2, 504, 6, -5e6, -5e6, 12, 14, 16, 18, 20, 22, 24];
  expect(judged(positionJump, smallLog(13, { y_m }))).toEqual([2, 4, 5]);
});

it('keeps a step that the time allows, and a far place from which nothing comes back', () => {
  const y_m = [0, 2, 4, 64, 66, 68];
  expect(judged(positionJump, smallLog(6, { y_m, time_s: [0, 1, 2, 32, 33, 34] }))).toEqual([]);
  expect(judged(positionJump, smallLog(6, { y_m }))).toEqual([]);
});

it('keeps the error of a receiver', () => {
  expect(judged(positionJump, smallLog(5, { y_m: [0, 2, 9, 6, 8] }))).toEqual([]);
});
