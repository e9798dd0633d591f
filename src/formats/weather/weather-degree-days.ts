import { type Issue, Refusal } from '../../engine/issue.ts';
import {
  type DegreeDays,
  degreeDaysOfNormals,
  degreeDaysOfRecord,
} from '../../engine/lineup/growing-degree-days.ts';
import type { WeatherRead, WeatherYear } from './read-weather.ts';

export interface SeasonsOfWeather {
  /** Of the year asked for or the only one; of several, their mean, day by day. */
  readonly degreeDays: DegreeDays;
  /** The same year by year; one where there is one. */
  readonly years: readonly { readonly year: number | null; readonly degreeDays: DegreeDays }[];
  readonly issues: readonly Issue[];
}

/** Of several years a day's mean stands where at least this share of them know it. Our own choice. */
const KNOWN_IN = 0.5;

/**
 * Degree days out of a record. Several years make a normal season: the mean of the degree days of a day over the years, not those of mean temperatures, for the base cuts off cold days (as climate normals of growing degree days
 * are made). Throws a Refusal for a year the record has not, and for fewer than twelve months.
 */
export function weatherDegreeDays(read: WeatherRead, year: number | null = null): SeasonsOfWeather {
  const wanted = year === null ? read.years : read.years.filter((own) => own.year === year);
  if (wanted.length === 0) refuseYear(read, year as number);
  const years = wanted.map((own) => ({ year: own.year, degreeDays: ofYear(read, own) }));
  if (years.length === 1) return { degreeDays: years[0].degreeDays, years, issues: [] };
  const daily = Float64Array.from({ length: 365 }, (_, k) => {
    const known = years.map((own) => own.degreeDays.daily[k]).filter((day) => !Number.isNaN(day));
    return known.length >= KNOWN_IN * years.length
      ? known.reduce((sum, day) => sum + day, 0) / known.length
      : NaN;
  });
  return {
    degreeDays: { from: 1, daily, of: 'normals' },
    years,
    issues: [
      averaged(
        read.file,
        years.map((own) => own.year),
      ),
    ],
  };
}

function ofYear({ file, by }: WeatherRead, { year, highest_f, lowest_f }: WeatherYear): DegreeDays {
  const of = year === null ? 'normals' : 'a record';
  if (by === 'day') return { ...degreeDaysOfRecord(1, highest_f, lowest_f), of };
  const gone = Array.from(highest_f.keys()).filter((k) => Number.isNaN(highest_f[k]));
  if (gone.length > 0)
    throw new Refusal({
      code: 'weather-months-missing',
      where: year === null ? file : `${file} › ${year}`,
      found: `${12 - gone.length} months`,
      expected: 'twelve',
      effect: 'The season cannot be judged',
      remedy: 'Give all months of the year, or a record by the day',
    });
  return { ...degreeDaysOfNormals(highest_f, lowest_f), of };
}

function refuseYear({ file, years }: WeatherRead, year: number): never {
  const there = years.map((own) => own.year ?? 'normals');
  throw new Refusal({
    code: 'weather-no-year',
    where: file,
    found: `no day of ${year}`,
    expected: `one of ${there.slice(0, 30).join(', ')}`,
    effect: 'The season cannot be judged',
    remedy: 'Name a year of the record, or leave it out',
  });
}

function averaged(where: string, years: readonly (number | null)[]): Issue {
  return {
    code: 'weather-years-averaged',
    severity: 'note',
    where,
    found: `${years.length} years, ${years[0]} to ${years[years.length - 1]}`,
    expected: 'one season, or a normal one',
    effect: 'The degree days of each day are averaged over the years: a normal season',
    remedy: 'Name a year for its own season (command line: --year)',
  };
}
