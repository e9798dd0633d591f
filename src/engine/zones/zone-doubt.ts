import type { Surface } from '../grid/field-grid.ts';

/** A year's yield relative to its level, by cell, and how much the year counts. */
export interface CountedYear {
  readonly relative: Surface;
  readonly weight: number;
}

/** How sure the yields of zones are, as shares of the field's. */
export interface ZoneDoubt {
  /** Standard deviation from year to year of a zone's yield about what its evidence says. */
  readonly yearToYear: number;
  /** Whether the years told that, or it was assumed. */
  readonly from: 'years' | 'assumed';
  /** By zone: standard error of its mean. */
  readonly error: Float64Array;
}

/**
 * How far zones depart from themselves from year to year (the zone by year mean square, each year's level being taken out), and so how sure the mean of the years there are is. Whole zones are held against each other:
 * what cells do by themselves evens out in a zone, what a wet year does to all of the low ground does not. With fewer than two years or two zones `assumed` stands for it, a share; ground no year
 * knows is as unsure as one year's.
 */
export function zoneDoubt(
  label: Uint8Array,
  zones: number,
  area: Float64Array,
  relative: Surface,
  years: readonly CountedYear[],
  assumed: number,
): ZoneDoubt {
  const counted = years.filter(({ weight }) => weight > 0);
  let squares = 0;
  let terms = 0;
  const weights = Array.from({ length: zones }, () => [0, 0]);
  const seen = new Set<number>();
  for (const { relative: own, weight } of counted) {
    const departs = departures(own, relative, label, zones, area);
    departs.forEach((departure, zone) => {
      if (Number.isNaN(departure)) return;
      squares += departure ** 2;
      terms++;
      weights[zone][0] += weight;
      weights[zone][1] += weight ** 2;
      seen.add(zone);
    });
  }
  // Of the departures one for each year is its level's, and one for each zone its mean's.
  const df = terms - counted.length - seen.size + 1;
  const from = df > 0 && counted.length > 1 && seen.size > 1 ? 'years' : 'assumed';
  const yearToYear = from === 'years' ? Math.sqrt(squares / df) : assumed;
  const error = Float64Array.from(weights, ([sum, squared]) =>
    sum > 0 ? (yearToYear * Math.sqrt(squared)) / sum : yearToYear,
  );
  return { yearToYear, from, error };
}

/** How far a year lies from the mean of years in each zone, over the cells it knows; NaN where it knows none. */
function departures(
  own: Surface,
  mean: Surface,
  label: Uint8Array,
  zones: number,
  area: Float64Array,
): Float64Array {
  const sum = new Float64Array(zones);
  const known = new Float64Array(zones);
  for (let cell = 0; cell < label.length; cell++) {
    const away = own[cell] - mean[cell];
    if (Number.isNaN(away)) continue;
    sum[label[cell]] += area[cell] * away;
    known[label[cell]] += area[cell];
  }
  return sum.map((total, zone) => total / known[zone]);
}
