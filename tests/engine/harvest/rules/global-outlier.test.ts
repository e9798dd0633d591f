import { expect, it } from 'vitest';
import { globalOutlier } from '../../../../src/engine/harvest/rules/global-outlier.ts';
import { drivenPasses, withValues } from '../driven-passes.ts';
import { judged } from '../judged.ts';

it('sets aside what lies over three standard deviations from the mean, and nothing where all are equal', () => {
  const even = drivenPasses({ passes: 4, records: 50 });
  expect(judged(globalOutlier, even)).toEqual([]);
  // Mean 100.5, standard deviation 7.05: three reach to 121.7.
  expect(judged(globalOutlier, withValues(even, { 70: 200 }))).toEqual([70]);
  expect(judged(globalOutlier, withValues(even, { 70: 200 }), { deviations: 20 })).toEqual([]);
});

it('keeps poor ground that every pass over it sees, though it lies over three deviations off', () => {
  const poor = (along: number, across: number) => along > 60 && along < 90 && across > 20 && across < 60;
  const log = drivenPasses({
    passes: 20,
    records: 100,
    yieldAt: (along, across) => (poor(along, across) ? 40 : 100),
  });
  const far = [...log.value].filter((own) => own === 40).length;
  const mean = log.value.reduce((sum, own) => sum + own, 0) / log.records;
  const sd = Math.sqrt(log.value.reduce((sum, own) => sum + (own - mean) ** 2, 0) / log.records);
  expect([far > 40, (mean - 40) / sd > 3]).toEqual([true, true]);
  expect(judged(globalOutlier, log)?.length).toBeLessThan(0.1 * far);
});
