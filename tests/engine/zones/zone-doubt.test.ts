import { describe, expect, it } from 'vitest';
import { zoneDoubt } from '../../../src/engine/zones/zone-doubt.ts';

/** Two zones of two cells each. */
const label = Uint8Array.of(0, 0, 1, 1);
const area = Float64Array.of(1, 3, 2, 2);
const mean = Float64Array.of(0.9, 0.9, 1.1, 1.1);
const year = (poor: number, good: number, weight = 1) => ({
  relative: Float64Array.of(poor, poor, good, good),
  weight,
});

describe('how sure zones are', () => {
  it('is their departures from themselves from year to year, over the root of the years', () => {
    // Departures of ±0.04 in two zones and two years: of four, one for each year and each zone is not free, but one: df = 1.
    const found = zoneDoubt(label, 2, area, mean, [year(0.94, 1.06), year(0.86, 1.14)], 0.08);
    expect(found.from).toBe('years');
    expect(found.yearToYear).toBeCloseTo(Math.sqrt((4 * 0.04 ** 2) / 1), 12);
    for (const own of found.error) expect(own).toBeCloseTo(found.yearToYear / Math.SQRT2, 12);
  });

  it('weighs years as they count, and leaves out one that does not', () => {
    const years = [year(0.94, 1.06, 3), year(0.86, 1.14, 1), year(0.2, 2, 0)];
    const found = zoneDoubt(label, 2, area, mean, years, 0.08);
    expect(found.yearToYear).toBeCloseTo(0.08, 12);
    expect(found.error[0]).toBeCloseTo((found.yearToYear * Math.sqrt(10)) / 4, 12);
  });

  it('holds a zone by the cells a year knows', () => {
    const half = { relative: Float64Array.of(NaN, 0.94, 1.06, 1.06), weight: 1 };
    const found = zoneDoubt(label, 2, area, mean, [half, year(0.86, 1.14)], 0.08);
    expect(found.yearToYear).toBeCloseTo(0.08, 12);
  });

  it('is assumed with one year, with one zone, and on ground no year knows', () => {
    expect(zoneDoubt(label, 2, area, mean, [year(0.9, 1.1)], 0.08)).toMatchObject({
      ...{ from: 'assumed', yearToYear: 0.08, error: Float64Array.of(0.08, 0.08) },
    });
    const one = zoneDoubt(new Uint8Array(4), 1, area, mean, [year(0.9, 1.1), year(1, 1)], 0.08);
    expect(one.from).toBe('assumed');
    const unseen = { relative: Float64Array.of(NaN, NaN, 1.06, 1.06), weight: 1 };
    const found = zoneDoubt(label, 2, area, mean, [unseen, unseen], 0.05);
    expect([...found.error]).toEqual([0.05, expect.closeTo(0.05 / Math.SQRT2, 12)]);
  });
});
