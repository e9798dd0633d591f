import { describe, expect, it } from 'vitest';
import { dayName, dayOfYear } from '../../../src/engine/lineup/day-of-year.ts';
import {
  degreeDaysOfNormals,
  degreeDaysOfRecord,
  growingDegreeDays,
} from '../../../src/engine/lineup/growing-degree-days.ts';
import {
  maturityFromMoisture,
  maturityNeeded,
  relativeMaturityOf,
} from '../../../src/engine/lineup/maturity-needed.ts';
import { type Season, type SeasonProduct, seasonFit } from '../../../src/engine/lineup/season-fit.ts';
import { seasonSentences } from '../../../src/engine/lineup/season-fit-words.ts';

/** Invented normals, °F, much like those of the middle of the Corn Belt. */
const HIGHEST = [31, 36, 49, 62, 73, 82, 85, 83, 76, 63, 48, 35];
const LOWEST = [14, 19, 29, 40, 52, 62, 66, 64, 54, 42, 30, 19];

function hybrid(gddToMaturity: number | null, maturity = '110'): SeasonProduct {
  return { crop: 'corn', maturity, gddToMaturity };
}

function season(change: Partial<Season> = {}): Season {
  return {
    planted: { month: 5, day: 1 },
    freeze: { month: 10, day: 10 },
    degreeDays: degreeDaysOfNormals(HIGHEST, LOWEST),
    ratedFrom: 'planting',
    region: 'Indiana or Ohio',
    relation: null,
    ...change,
  };
}

const LATE = { planted: { month: 5, day: 31 } };

describe('growingDegreeDays', () => {
  it('gives the printed examples', () => {
    // Ohio State University Extension, Corn growing degree days, 2023.
    expect(growingDegreeDays(87, 63)).toBe(24.5);
    // Waushara Argus, Calculating growing degree days, 2018: three days, 43 in all.
    expect([growingDegreeDays(90, 65), growingDegreeDays(72, 46), growingDegreeDays(63, 42)]).toEqual([
      25.5, 11, 6.5,
    ]);
    // Iowa State University, Agronomy 541, lesson 2b: an ordinary day of late May; the most a day can bring.
    expect(growingDegreeDays(70, 50)).toBe(10);
    expect(growingDegreeDays(104, 90)).toBe(36);
  });

  it('is never under zero, and not known where a temperature is not', () => {
    expect(growingDegreeDays(40, 20)).toBe(0);
    expect(growingDegreeDays(NaN, 60)).toBeNaN();
    expect(growingDegreeDays(80, NaN)).toBeNaN();
  });

  it('lies along straight lines between the middles of months, as approx of R has it', () => {
    // tests/reference/trials.R
    const { daily } = degreeDaysOfNormals(HIGHEST, LOWEST);
    expect(daily).toHaveLength(365);
    expect(daily.reduce((sum, day) => sum + day, 0)).toBeCloseTo(3344.49180328, 8);
    const days = [1, 100, 121, 200, 365].map((day) => daily[day - 1]);
    const printed = [0, 4.82786885246, 8.79508196721, 25.3064516129, 0];
    for (const [k, day] of printed.entries()) expect(days[k]).toBeCloseTo(day, 10);
  });

  it('refuses temperatures that do not go together', () => {
    expect(() => degreeDaysOfNormals([60], [40])).toThrow('normals of 1 and 1 months');
    expect(() => degreeDaysOfRecord(1, [60, 61], [40])).toThrow('2 highest and 1 lowest');
  });
});

describe('maturityNeeded', () => {
  it('takes off what the published example takes off for late planting', () => {
    // Nielsen, Hybrid maturities for delayed planting: 2,700 rated, planted 31 May: 2,700 − 30 × 6.8, "less than 2500".
    const may31 = dayOfYear({ month: 5, day: 31 });
    expect(maturityNeeded(hybrid(2700), may31, 'planting', null)?.gdd).toBeCloseTo(2496, 9);
    // Thomison, Ohio State University: 2,800 rated, 30 days late, 204 fewer, "slightly less than 2600".
    expect(maturityNeeded(hybrid(2800), may31, 'planting', null)?.offForLatePlanting).toBeCloseTo(204, 9);
  });

  it('takes nothing off before May and adds the way to emergence', () => {
    expect(maturityNeeded(hybrid(2700), dayOfYear({ month: 4, day: 20 }), 'planting', null)?.gdd).toBe(2700);
    // Purdue Extension: add about 115 to a rating from emergence.
    expect(maturityNeeded(hybrid(2700), 121, 'emergence', null)?.gdd).toBe(2815);
  });

  it('goes by relative maturity only where the lineup states how, and then from planting', () => {
    const relation = { relativeMaturity: 110, gdd: 2700, gddPerPoint: 25, by: 'the station' };
    expect(maturityNeeded(hybrid(null, '108 days'), 121, 'emergence', relation)?.gdd).toBe(2650);
    expect(maturityNeeded(hybrid(null, 'late'), 121, 'planting', relation)).toBeNull();
    expect(maturityNeeded(hybrid(null), 121, 'planting', null)).toBeNull();
  });

  it('reads a relative maturity and nothing that only looks like one', () => {
    expect(['108', ' 108 days', 'RM 108', 'CRM108', '97-day', '105.5'].map(relativeMaturityOf)).toEqual([
      108, 108, 108, 108, 97, 105.5,
    ]);
    expect(['', 'early', 'MG 2.4', '108-112', '1e3'].map(relativeMaturityOf).every(Number.isNaN)).toBe(true);
  });

  it('reads a difference in moisture as half a point of moisture a day', () => {
    // No-Till Farmer, 1917: two points wetter than a 110 is a 114.
    expect(maturityFromMoisture(110, 2)).toBe(114);
    expect(maturityFromMoisture(110, -1)).toBe(108);
  });
});

describe('seasonFit', () => {
  it('judges the published late hybrid against a normal season', () => {
    const fit = seasonFit(hybrid(2700), season(LATE));
    if (fit.verdict === 'cannot be told') throw new Error(fit.why);
    // R: 2,643.96721311 from 31 May to 9 October; 2,496 is reached on day 267.
    expect(fit.figures.available).toBeCloseTo(2643.96721311, 8);
    expect(fit.figures.blackLayer).toBe(267);
    expect(seasonSentences(fit, 'Plover 108')).toEqual([
      'Plover 108 is safe: black layer about 24 September, 16 days before the freeze on 10 October, with 148 growing degree days to spare.',
      'It needs 2,496 growing degree days (2,700 as rated, 204 less for planting 30 days after 1 May); from 31 May to 10 October there are 2,644.',
      'That is a normal season: about half of the years bring less.',
    ]);
  });

  it('is tight close to the freeze and too long beyond it', () => {
    const verdict = (gdd: number) => seasonFit(hybrid(gdd), season(LATE)).verdict;
    expect([2700, 2800, 2840, 2900].map(verdict)).toEqual(['safe', 'tight', 'tight', 'too long']);
    expect(seasonSentences(seasonFit(hybrid(2900), season(LATE)), 'Plover 108')[0]).toBe(
      'Plover 108 is too long for the season: 52 growing degree days short of black layer when it freezes on 10 October.',
    );
  });

  it('is safe only where it is so from planting and from emergence, where nobody says from which', () => {
    const fit = seasonFit(hybrid(2700), season({ ...LATE, ratedFrom: null }));
    const said = seasonSentences(fit, 'Plover 108');
    expect(fit.verdict).toBe('tight');
    expect(said).toContain('If the rating counts from emergence it is tight.');
    expect(said).toContain(
      'Ratings may be from planting or from emergence (115 growing degree days apart); here from planting.',
    );
    expect(seasonFit(hybrid(2400), season({ ...LATE, ratedFrom: null }))).toMatchObject({
      verdict: 'safe',
      fromEmergence: null,
    });
  });

  it('warns where late planting was not measured, and only if something was taken off', () => {
    const cautions = (change: Partial<Season>) =>
      seasonSentences(seasonFit(hybrid(2700), season(change)), 'Plover 108').join(' ');
    expect(cautions({ ...LATE, region: 'elsewhere' })).toContain('measured in Indiana and Ohio');
    expect(cautions({ region: 'elsewhere' })).not.toContain('Indiana');
    expect(cautions(LATE)).not.toContain('Indiana');
    expect(cautions({ planted: { month: 6, day: 20 } })).toContain('beyond what was measured');
  });

  it('does not judge soybeans, nor corn without figures', () => {
    expect(seasonSentences(seasonFit({ ...hybrid(2700), crop: 'soybeans' }, season()), 'Snipe 24')).toEqual([
      'Whether Snipe 24 ripens in time cannot be told: growing degree days of 86/50 °F are those of corn, not of soybeans.',
    ]);
    expect(seasonFit(hybrid(null), season())).toMatchObject({
      verdict: 'cannot be told',
      why: expect.stringContaining('relative maturity is no count of days'),
    });
  });

  it('goes by relative maturity with the name of who says so', () => {
    const relation = { relativeMaturity: 110, gdd: 2700, gddPerPoint: 25, by: 'the county station' };
    const fit = seasonFit(hybrid(null, '108'), season({ relation, ratedFrom: null }));
    const said = seasonSentences(fit, 'Plover 108');
    expect(said).toContain('The need is reckoned from relative maturity, as the county station has it.');
    expect(said.join(' ')).not.toContain('emergence');
    expect(fit).toMatchObject({ figures: { need: { gdd: 2650 } } });
  });

  it('takes a few unknown days of a record at the mean, and gives up on many', () => {
    const steady = (unknown: number) =>
      degreeDaysOfRecord(
        dayOfYear({ month: 5, day: 1 }),
        Float64Array.from({ length: 170 }, (_, k) => (k >= 20 && k < 20 + unknown ? NaN : 80)),
        new Float64Array(170).fill(60),
      );
    const fit = seasonFit(hybrid(2700), season({ degreeDays: steady(3) }));
    // 162 days of 20.
    expect(fit).toMatchObject({ verdict: 'safe', figures: { available: 162 * 20 } });
    expect(seasonSentences(fit, 'Plover 108')).toContain(
      '3 days without temperatures taken at the mean of the others.',
    );
    expect(seasonFit(hybrid(2700), season({ degreeDays: steady(9) })).verdict).toBe('cannot be told');
    // The record ends before the freeze.
    const freeze = { month: 11, day: 20 };
    expect(seasonFit(hybrid(2700), season({ degreeDays: steady(0), freeze })).verdict).toBe('cannot be told');
  });

  it('refuses days that are none and a freeze before planting', () => {
    expect(() => seasonFit(hybrid(2700), season({ planted: { month: 2, day: 29 } }))).toThrow(
      'day 29 of month 2',
    );
    expect(() => seasonFit(hybrid(2700), season({ freeze: { month: 4, day: 2 } }))).toThrow(
      'planted 1 May, freeze 2 April',
    );
  });
});

describe('days of the year', () => {
  it('are named as they are counted', () => {
    const named = Array.from({ length: 365 }, (_, k) => dayName(k + 1));
    expect(new Set(named).size).toBe(365);
    expect([named[0], named[58], named[59], named[364]]).toEqual([
      '1 January',
      '28 February',
      '1 March',
      '31 December',
    ]);
    expect(dayOfYear({ month: 12, day: 31 })).toBe(365);
  });
});
