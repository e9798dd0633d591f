import { expect, it } from 'vitest';
import { localOutlier } from '../../../../src/engine/harvest/rules/local-outlier.ts';
import { drivenPasses, withValues } from '../driven-passes.ts';
import { judged } from '../judged.ts';

/** From 60 in the west to 180 in the east. */
const slope = drivenPasses({ passes: 14, records: 60, yieldAt: (_, across) => 60 + across });

it('sets aside what no neighbour looks like, though the field has its like elsewhere', () => {
  // Records of the third and the thirteenth pass, 78 and 168 bu/ac round about.
  expect(judged(localOutlier, slope)).toEqual([]);
  expect(judged(localOutlier, withValues(slope, { 150: 168, 750: 78 }))).toEqual([150, 750]);
});

it('makes no outliers of small differences where all else is equal', () => {
  const even = drivenPasses({ passes: 5, records: 30 });
  // The floor of 5 %: 3.5 deviations of 1.4826 · 5 are 26.
  expect(judged(localOutlier, withValues(even, { 70: 125, 75: 127 }))).toEqual([75]);
  expect(judged(localOutlier, withValues(even, { 70: 125 }), { floor: 0.01 })).toEqual([70]);
});

it('says nothing of records with hardly a neighbour', () => {
  const few = drivenPasses({ passes: 1, records: 8 });
  expect(judged(localOutlier, withValues(few, { 4: 900 }))).toEqual([]);
});

it('measures by kept records alone', () => {
  const even = withValues(drivenPasses({ passes: 5, records: 30 }), { 75: 160 });
  expect(
    judged(
      localOutlier,
      even,
      {},
      Array.from({ length: 150 }, (_, i) => (i === 75 ? 0 : 1)),
    ),
  ).toEqual([]);
});
