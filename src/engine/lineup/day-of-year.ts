import { Refusal } from '../issue.ts';

/** A day of the calendar, whatever the year. */
export interface MonthDay {
  /** 1–12. */
  readonly month: number;
  readonly day: number;
}

export const DAYS_OF_YEAR = 365;
const DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const NAMES = [
  ...['January', 'February', 'March', 'April', 'May', 'June'],
  ...['July', 'August', 'September', 'October', 'November', 'December'],
];

/** Day of a year of 365 days, 1 January being 1. Refuses what is no day of such a year. */
export function dayOfYear({ month, day }: MonthDay): number {
  const days = Number.isInteger(month) ? DAYS[month - 1] : undefined;
  if (days === undefined || !Number.isInteger(day) || day < 1 || day > days)
    throw new Refusal({
      code: 'no-such-day',
      where: 'day of the season',
      found: `day ${day} of month ${month}`,
      expected: 'a day of a year of 365 days',
      effect: 'The season cannot be reckoned',
      remedy: 'Correct the day; for 29 February give the 28th',
    });
  return firstOfMonth(month) + day - 1;
}

/** Day of the year the month begins with. */
export function firstOfMonth(month: number): number {
  return DAYS.slice(0, month - 1).reduce((sum, days) => sum + days, 1);
}

/** Days from the beginning of the year to the middle of the month. */
export function middleOfMonth(month: number): number {
  return firstOfMonth(month) - 1 + DAYS[month - 1] / 2;
}

/** `31 May`. */
export function dayName(dayOfYear: number): string {
  let month = 12;
  while (firstOfMonth(month) > dayOfYear) month--;
  return `${dayOfYear - firstOfMonth(month) + 1} ${NAMES[month - 1]}`;
}
