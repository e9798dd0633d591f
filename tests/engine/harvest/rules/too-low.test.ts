import { expect, it } from 'vitest';
import { tooLow } from '../../../../src/engine/harvest/rules/too-low.ts';
import { drivenPasses, withValues } from '../driven-passes.ts';
import { judged } from '../judged.ts';
import { smallLog } from '../small-log.ts';

it('sets aside what is under a tenth of the median of the kept', () => {
  const log = smallLog(6, { value: [100, 9, 100, 11, 1, 100] });
  expect(judged(tooLow, log, {}, [1, 1, 1, 1, 0, 1])).toEqual([1]);
  expect(judged(tooLow, log, { timesMedian: 0 })).toEqual([]);
});

it('keeps a drowned hollow that every pass over it sees', () => {
  // Forty metres along, over four of eight passes.
  const hollow = drivenPasses({
    passes: 8,
    records: 60,
    yieldAt: (along, across) => (along > 40 && along < 80 && across > 10 && across < 50 ? 6 : 100),
  });
  expect(judged(tooLow, hollow)).toEqual([]);
  const sensor = withValues(drivenPasses({ passes: 8, records: 60 }), { 200: 6, 201: 6, 202: 6 });
  expect(judged(tooLow, sensor)).toEqual([200, 201, 202]);
});
