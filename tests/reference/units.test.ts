import { describe, expect, it } from 'vitest';
import * as units from '../../src/engine/math/units.ts';

describe('units against published tables', () => {
  // 43,560 ft² of 0.3048 m; NIST Handbook 44, appendix C prints 4046.856 m² (rounded).
  it('counts the international acre', () => {
    expect(units.M2_PER_ACRE).toBeCloseTo(43560 * 0.3048 ** 2, 9);
    expect(units.acresFromM2(units.m2FromAcres(160))).toBe(160);
    // The survey acre, 62,726,400,000 / 15,499,969 m², is 4.000012 in a million larger.
    const surveyAcre = 43560 * units.M_PER_US_SURVEY_FT ** 2;
    expect(surveyAcre).toBeCloseTo(62726400000 / 15499969, 9);
    expect(surveyAcre / units.M2_PER_ACRE - 1).toBeCloseTo(4.000012e-6, 12);
  });

  // Extension tables of row length for 1/1000 acre, feet and inches: 30 in 17'5" and 15 in 34'10" are printed
  // (University of Maryland, blog.umd.edu 2025-06-09); the other widths by the same formula, to a tenth of an inch.
  it.each([
    [7.5, 69, 8.4],
    [15, 34, 10.2],
    [20, 26, 1.6],
    [22, 23, 9.1],
    [28, 18, 8.0],
    [30, 17, 5.1],
    [32, 16, 4.0],
    [36, 14, 6.2],
    [38, 13, 9.1],
    [40, 13, 0.8],
  ])('makes 1/1000 acre of a %s in row %s ft %s in long', (row_in, feet, inches) => {
    expect(Math.abs(units.rowLengthOfThousandthAcre_ft(row_in) * 12 - (feet * 12 + inches))).toBeLessThan(
      0.05 + 1e-9,
    );
  });

  it('makes 17,424 ft of 30 in row an acre', () => {
    expect(units.rowLengthOfThousandthAcre_ft(30) * 1000).toBeCloseTo(17424, 6);
  });

  // The extension formula 6,272,640 / (row width × population): 32,000 at 30 in gives 6.534 in.
  it('spaces seeds in the row', () => {
    expect(units.seedSpacing_in(30, 32000)).toBeCloseTo(6.534, 3);
    expect(units.seedSpacing_in(15, 140000)).toBeCloseTo(6272640 / (15 * 140000), 9);
  });

  // Population × row width in feet × feet a second / 43,560, worked by hand.
  it.each([
    [32000, 30, 5, 13.468],
    [32000, 30, 10, 26.936],
    [36000, 30, 10, 30.303],
    [140000, 15, 5, 29.461],
    [140000, 30, 6, 70.707],
  ])('drops %s seeds/ac in %s in rows at %s mph at %s seeds a second', (rate, row_in, mph, expected) => {
    expect(units.seedsPerSecondPerRow(rate, row_in, mph)).toBeCloseTo(expected, 3);
  });

  // Common practice of the seed trade; the tag of the lot rules.
  it('sells corn by 80,000 and soybean by 140,000 seeds', () => {
    expect(['corn', 'soybean', 'toString'].map(units.usualSeedsPerUnit)).toEqual([80000, 140000, null]);
    expect((32000 * 160) / (units.usualSeedsPerUnit('corn') ?? 0)).toBe(64);
  });

  // University of Wisconsin Extension, Harvest Math 101.
  it.each([
    ['corn', 56, 15.5],
    ['soybean', 60, 13],
    ['wheat', 60, 13.5],
    ['oats', 32, 14],
    ['barley', 48, 14.5],
  ] as const)('weighs a bushel of %s at %s lb and %s %% moisture', (crop, lbPerBu, baseMoisture_pct) => {
    expect(units.BUSHELS[crop]).toEqual({ lbPerBu, baseMoisture_pct });
  });

  // Farm Progress, "Count dry bushels": 1,000 wet bushels at 26 % are 870.6 at 15 %.
  it('shrinks grain to its base moisture', () => {
    expect(1000 * units.shrinkFactor(26, 15)).toBeCloseTo(870.588, 3);
    expect(units.dryBushels(56000, 26, { lbPerBu: 56, baseMoisture_pct: 15 })).toBeCloseTo(870.588, 3);
    // Corn yield = lb / 56 × (100 − M) / 84.5, journal-advocate.com 2012-10-18.
    expect(units.dryBushels(5600, 20, units.BUSHELS.corn)).toBeCloseTo((100 * 80) / 84.5, 9);
    expect(units.shrinkFactor(15.5, 15.5)).toBe(1);
  });

  // Points of shrink for one point of moisture, printed by extension services: 1.1765 to 15 %, 1.1834 to 15.5 %, 1.1494 to 13 %.
  it.each([
    [15, 1.1765],
    [15.5, 1.1834],
    [13, 1.1494],
  ])('loses %s-base grain %s %% a point', (base_pct, pctPerPoint) => {
    expect(100 * (1 - units.shrinkFactor(base_pct + 1, base_pct))).toBeCloseTo(pctPerPoint, 4);
  });

  // Crop insurance counts 1.2 % a point above 15 %: 20 % gives .9400 (phillipsstafford.com).
  it('shrinks at a flat rate a point', () => {
    expect(units.flatShrinkFactor(20, 15, 1.2)).toBeCloseTo(0.94, 12);
    expect(units.flatShrinkFactor(12, 15, 1.2)).toBe(1);
  });

  it('names the small ones exactly', () => {
    expect([units.M_PER_FT, units.M_PER_IN, units.KG_PER_LB]).toEqual([0.3048, 0.0254, 0.45359237]);
    expect(units.FT_PER_S_PER_MPH).toBeCloseTo(22 / 15, 12);
  });
});
