import { expect, it } from 'vitest';
import { noValue } from '../../../../src/engine/harvest/rules/no-value.ts';
import { judged } from '../judged.ts';
import { smallLog } from '../small-log.ts';

it('sets aside what has no yield, and leaves a yield of nothing to the rule of the header', () => {
  expect(judged(noValue, smallLog(4, { value: [100, NaN, 0, -5] }))).toEqual([1]);
});
