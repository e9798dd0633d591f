import { describe, expect, it } from 'vitest';
import { localMoran } from '../../../../src/engine/harvest/rules/local-moran.ts';
import { drivenPasses, withValues } from '../driven-passes.ts';
import { judged } from '../judged.ts';

/** Poor in the west, good in the east, with a sensor's noise: fourteen passes of sixty records. */
const halves = drivenPasses({
  passes: 14,
  records: 60,
  noise: 0.03,
  gps_m: 0.2,
  yieldAt: (_, across) => (across < 60 ? 80 : 120),
});

describe('local Moran', () => {
  it('sets aside good yields amid the poor and poor ones amid the good', () => {
    const marks = judged(localMoran, withValues(halves, { 150: 125, 690: 75 })) ?? [];
    expect(marks).toContain(150);
    expect(marks).toContain(690);
  });
  it('keeps what follows its neighbours, however far from the mean', () => {
    expect(judged(localMoran, halves)).toEqual([]);
    expect(judged(localMoran, withValues(halves, { 150: 40, 690: 160 }))).toEqual([]);
  });
  it('keeps the noise about the mean of a slope, all but one record in a hundred', () => {
    const slope = drivenPasses({
      passes: 14,
      records: 60,
      noise: 0.03,
      gps_m: 0.2,
      yieldAt: (_, across) => 80 + across / 3,
    });
    expect(judged(localMoran, slope)?.length).toBeLessThan(0.01 * slope.records);
  });
  it('finds nothing where all yields are equal, and nothing in three records', () => {
    expect(judged(localMoran, drivenPasses({ passes: 4, records: 20 }))).toEqual([]);
    expect(judged(localMoran, drivenPasses({ passes: 1, records: 3, noise: 0.5 }))).toEqual([]);
  });
});
