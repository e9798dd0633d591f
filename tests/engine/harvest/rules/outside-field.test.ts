import { expect, it } from 'vitest';
import { outsideField } from '../../../../src/engine/harvest/rules/outside-field.ts';
import { judged } from '../judged.ts';
import { smallLog } from '../small-log.ts';

it('sets aside what lies outside', () => {
  expect(judged(outsideField, smallLog(3, { inside: [1, 0, 1] }))).toEqual([1]);
});
