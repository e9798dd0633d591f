import { expect, it } from 'vitest';
import { noPosition } from '../../../../src/engine/harvest/rules/no-position.ts';
import { judged } from '../judged.ts';
import { smallLog } from '../small-log.ts';

it('sets aside what has no place', () => {
  const log = smallLog(4, { x_m: [0, NaN, 0, Infinity], y_m: [0, 1, NaN, 1] });
  expect(judged(noPosition, log)).toEqual([1, 2, 3]);
});
