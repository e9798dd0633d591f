import { InvalidArgumentError } from 'commander';
import type { MonthDay } from '../engine/lineup/day-of-year.ts';
import { monthOf } from '../formats/weather/weather-date.ts';

/** A day of the year as the command line takes it: `5-10` or `5/10` for 10 May, `10 May`, `May 10`. Whether there is such a day is for the season to say. */
export function monthDay(text: string): MonthDay {
  const numbers = /^(\d{1,2})[-/](\d{1,2})$/.exec(text.trim());
  const named =
    /^(?<day>\d{1,2})[\s.-]+(?<month>\p{L}{3,12})$/u.exec(text.trim()) ??
    /^(?<month>\p{L}{3,12})[\s.-]+(?<day>\d{1,2})$/u.exec(text.trim());
  const [month, day] = numbers
    ? [Number(numbers[1]), Number(numbers[2])]
    : [monthOf(named?.groups?.month ?? ''), Number(named?.groups?.day)];
  if (Number.isNaN(month) || Number.isNaN(day))
    throw new InvalidArgumentError('a day as 5-10 (month first) or "10 May" is expected.');
  return { month, day };
}
