import type { Issue } from '../../engine/issue.ts';
import { dayName } from '../../engine/lineup/day-of-year.ts';
import { type Tally, tallyText } from '../tally.ts';
import type { WeatherYear } from './read-weather.ts';

/** Why a row is not of a day or a month. */
export type WeatherAside = 'no-date' | 'leap-day' | 'no-temperature' | 'not-possible' | 'day-twice';

const ASIDE: Readonly<Record<WeatherAside, readonly [found: string, expected: string]>> = {
  'no-date': ['no date, or none there is', 'a date in every row'],
  'leap-day': ['29 February', 'years of 365 days: no degree days are lost'],
  'no-temperature': ['a temperature that is blank or no number', 'both temperatures'],
  'not-possible': [
    'hotter or colder than it ever was, or the lowest over the highest',
    'temperatures of the air, the highest at least the lowest',
  ],
  'day-twice': ['a day a second time', 'each day once; the first is kept'],
};

/** What was set aside, by reason, with the lines. */
export function asideIssues(where: string, aside: ReadonlyMap<WeatherAside, Tally>): Issue[] {
  return [...aside].map(([reason, tally]) => {
    const [found, expected] = ASIDE[reason];
    return {
      code: `weather-${reason}`,
      severity: reason === 'leap-day' ? 'note' : 'warning',
      where,
      found: `${found}: ${tallyText(tally, tally.count === 1 ? 'line' : 'lines')}`,
      expected,
      effect: `${tally.count} ${tally.count === 1 ? 'row is' : 'rows are'} set aside`,
      remedy: reason === 'leap-day' ? 'Nothing to do' : 'Correct these rows if they matter',
    };
  });
}

/** Days, or months, not known between the first and the last that are, year by year. */
export function daysMissing(where: string, by: 'day' | 'month', years: readonly WeatherYear[]): Issue[] {
  return years.flatMap(({ year, highest_f }): Issue[] => {
    const known = Array.from(highest_f.keys()).filter((k) => !Number.isNaN(highest_f[k]));
    const [first, last] = [known[0], known[known.length - 1]];
    const gone = Array.from({ length: last - first }, (_, k) => first + k).filter((k) =>
      Number.isNaN(highest_f[k]),
    );
    if (gone.length === 0) return [];
    const named = gone.slice(0, 5).map((k) => (by === 'day' ? dayName(k + 1) : `month ${k + 1}`));
    return [
      {
        code: `weather-${by}s-missing`,
        severity: 'warning',
        where: year === null ? where : `${where} › ${year}`,
        found: `${gone.length} ${by}${gone.length === 1 ? '' : 's'} without temperatures: ${named.join(', ')}${gone.length > 5 ? ', …' : ''}`,
        expected: `every ${by}`,
        effect: `Degree days of ${gone.length === 1 ? `that ${by} are` : `those ${by}s are`} not known`,
        remedy: 'Fill them in if they matter',
      },
    ];
  });
}

export function orderAssumed(where: string): Issue {
  return {
    code: 'weather-date-order',
    severity: 'warning',
    where,
    found: 'dates that can be read with the month or the day first',
    expected: 'dates as 2025-05-10',
    effect: 'The month is taken to come first',
    remedy: 'Write the dates with the year first if this is wrong',
  };
}
