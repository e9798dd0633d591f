import { describe, expect, it } from 'vitest';
import { overlap } from '../../../../src/engine/harvest/rules/overlap.ts';
import { drivenPasses } from '../driven-passes.ts';
import { judged } from '../judged.ts';

/** Two passes of ten records, nine metres wide, the second pass so far to the side. */
const beside = (across_m: number) => {
  const log = drivenPasses({ passes: 2, records: 10 });
  return { ...log, x_m: log.x_m.map((x) => (x > 0 ? across_m : 0)), inside: log.inside };
};

/** The first record of a pass has no course yet. */
const second = [11, 12, 13, 14, 15, 16, 17, 18, 19];

describe('ground already cut', () => {
  it('is set aside in the pass that comes after', () => {
    expect(judged(overlap, beside(0.1))).toEqual(second);
    expect(judged(overlap, beside(4))).toEqual(second);
  });
  it('is kept where passes lie side by side, and where little is cut twice', () => {
    expect(judged(overlap, beside(9))).toEqual([]);
    // 1.5 of 9 m.
    expect(judged(overlap, beside(7.5))).toEqual([]);
  });
  it('is known to some tenth of a strip', () => {
    // 3.6 of 9 m cut before: 40 %.
    expect(judged(overlap, beside(5.4), { share: 0.3 })).toEqual(second);
    expect(judged(overlap, beside(5.4), { share: 0.5 })).toEqual([]);
  });
  it('stands as long as the header is up over it', () => {
    const log = beside(0.1);
    const header = log.x_m.map((x) => (x > 0 ? 1 : 0));
    expect(judged(overlap, { ...log, header })).toEqual([]);
  });
  it('was cut by records set aside too', () => {
    const kept = Array.from({ length: 20 }, (_, i) => (i < 10 ? 0 : 1));
    expect(judged(overlap, beside(0.1), {}, kept)).toEqual(second);
  });
});

it('is not tried where no width is recorded', () => {
  expect(judged(overlap, { ...beside(0.1), swath_m: null })).toBeNull();
});
