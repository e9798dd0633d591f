import { expect, it } from 'vitest';
import { narrowSwath } from '../../../../src/engine/harvest/rules/narrow-swath.ts';
import { judged } from '../judged.ts';
import { smallLog } from '../small-log.ts';

it('sets aside what is cut with under half the header, with nothing, or with nobody knows what', () => {
  const swath_m = [9, 9, 9, 4.4, 4.5, 0, NaN, 9];
  expect(judged(narrowSwath, smallLog(8, { swath_m }))).toEqual([3, 5, 6]);
  expect(judged(narrowSwath, smallLog(8, { swath_m }), { share: 0 })).toEqual([5, 6]);
});

it('takes no slip of one record for the header', () => {
  const swath_m = Array.from({ length: 100 }, (_, i) => (i === 50 ? 90 : 9));
  expect(judged(narrowSwath, smallLog(100, { swath_m }))).toEqual([]);
});

it('is not tried where no width is recorded', () => {
  expect(judged(narrowSwath, smallLog(3))).toBeNull();
  expect(judged(narrowSwath, smallLog(3, { swath_m: [0, 0, NaN] }))).toBeNull();
});
