import { expect, it } from 'vitest';
import { headerUp } from '../../../../src/engine/harvest/rules/header-up.ts';
import { judged } from '../judged.ts';
import { smallLog } from '../small-log.ts';

it('sets aside what is cut with the header up, and yields of nothing or less', () => {
  const log = smallLog(6, { header: [1, 1, 0, 1, NaN, 1], value: [100, 0, 90, -3, 100, 100] });
  expect(judged(headerUp, log)).toEqual([1, 2, 3]);
});

it('goes by the yield alone where no header is recorded, or where it is up while most grain comes in', () => {
  expect(judged(headerUp, smallLog(3, { value: [100, 0, 100] }))).toEqual([1]);
  expect(judged(headerUp, smallLog(4, { value: [100, 0, 100, 100], header: [0, 1, 0, 0] }))).toEqual([1]);
});
