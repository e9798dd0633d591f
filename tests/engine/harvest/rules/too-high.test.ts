import { expect, it } from 'vitest';
import { tooHigh } from '../../../../src/engine/harvest/rules/too-high.ts';
import { judged } from '../judged.ts';
import { smallLog } from '../small-log.ts';

it('sets aside what is over three times the median', () => {
  const log = smallLog(5, { value: [100, 301, 100, 299, 100] });
  expect(judged(tooHigh, log)).toEqual([1]);
  expect(judged(tooHigh, log, { timesMedian: 2 })).toEqual([1, 3]);
});
