import { expect, it } from 'vitest';
import { coLocated } from '../../../../src/engine/harvest/rules/co-located.ts';
import { judged } from '../judged.ts';
import { smallLog } from '../small-log.ts';

it('keeps the first of two records of one place, whatever their order in the file', () => {
  const y_m = [0, 2, 4, 2.04, 6, 8];
  expect(judged(coLocated, smallLog(6, { y_m }))).toEqual([3]);
  expect(judged(coLocated, smallLog(6, { y_m, time_s: [0, 9, 2, 1, 3, 4] }))).toEqual([1]);
  expect(judged(coLocated, smallLog(6, { y_m }), { apart_m: 0.02 })).toEqual([]);
});

it('keeps the first of a file pasted twice', () => {
  const y_m = [0, 2, 4, 6, 0, 2, 4, 6];
  expect(judged(coLocated, smallLog(8, { y_m }))).toEqual([4, 5, 6, 7]);
});

it('keeps the first of one time where the second is hardly a step on', () => {
  const y_m = [0, 2, 2.5, 4, 6, 8, 10];
  expect(judged(coLocated, smallLog(7, { y_m, time_s: [0, 1, 1, 2, 3, 4, 5] }))).toEqual([2]);
});

it('keeps all of one time where the clock is coarser than the records', () => {
  expect(judged(coLocated, smallLog(6, { time_s: [0, 0, 0, 1, 1, 1] }))).toEqual([]);
});

it('passes over records set aside', () => {
  const y_m = [0, 2, 2, 4];
  expect(judged(coLocated, smallLog(4, { y_m }), {}, [1, 0, 1, 1])).toEqual([]);
});

it('lets a repeat stand for nothing: the next record is measured by the one kept', () => {
  const y_m = [0, 2, 2.04, 2.08, 4];
  expect(judged(coLocated, smallLog(5, { y_m }))).toEqual([2]);
});
