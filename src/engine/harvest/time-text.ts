import { daysFromCivil } from './civil-days.ts';

/** Which of two leading numbers of a date is the month. */
export type DateOrder = 'month first' | 'day first';

/** A text read as a moment: days since 1970-01-01 (null: no date in it), and seconds of the day (null: no clock in it). */
export interface Moment {
  readonly days: number | null;
  readonly clock_s: number | null;
}

const CLOCK =
  /^(\d{1,2}):(\d{2})(?::(\d{2}(?:[.,]\d+)?))?\s*([ap])?\.?m?\.?\s*(z|utc|gmt|[+-]\d{2}:?\d{2}|[+-]\d{2})?$/i;
const ISO_DATE = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[t\s]+(.+))?$/i;
const OTHER_DATE = /^(\d{1,2})[-/.](\d{1,2})[-/.](\d{4}|\d{2})(?:,?\s+(.+))?$/;
const COMPACT = /^(\d{4})(\d{2})(\d{2})(?:t?(\d{2})(\d{2})(\d{2}))?z?$/i;
const NAMED_DATE = /^(\d{1,2})[-\s]([a-z]{3})[a-z]*[-\s,]+(\d{4}|\d{2})(?:\s+(.+))?$/i;
const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];

/** A date, a clock or both, as ISO 8601 and common exports write them; null for a text that is none of it. A zone is taken off the clock. */
export function momentOf(text: string, order: DateOrder): Moment | null {
  const plain = text.trim();
  const clock = clockOf(plain);
  if (clock !== null) return { days: null, clock_s: clock };
  const iso = ISO_DATE.exec(plain);
  if (iso) return dated(Number(iso[1]), Number(iso[2]), Number(iso[3]), iso[4]);
  const compact = COMPACT.exec(plain);
  if (compact) {
    const [, y, m, d, h, min, s] = compact;
    return dated(Number(y), Number(m), Number(d), h === undefined ? undefined : `${h}:${min}:${s}`);
  }
  const other = OTHER_DATE.exec(plain);
  if (other) {
    const [first, second] = [Number(other[1]), Number(other[2])];
    const [month, day] = order === 'month first' ? [first, second] : [second, first];
    return dated(century(Number(other[3])), month, day, other[4]);
  }
  const named = NAMED_DATE.exec(plain);
  if (named) {
    const month = MONTHS.indexOf(named[2].toLowerCase()) + 1;
    return dated(century(Number(named[3])), month, Number(named[1]), named[4]);
  }
  return null;
}

function dated(year: number, month: number, day: number, rest: string | undefined): Moment | null {
  const days = daysFromCivil(year, month, day);
  if (Number.isNaN(days)) return null;
  if (rest === undefined) return { days, clock_s: null };
  const clock = clockOf(rest.trim());
  return clock === null ? null : { days, clock_s: clock };
}

/** Years of two digits are of 1970 to 2069. */
function century(year: number): number {
  return year >= 100 ? year : year < 70 ? 2000 + year : 1900 + year;
}

function clockOf(text: string): number | null {
  const found = CLOCK.exec(text);
  if (!found) return null;
  const [, h, m, s, half, zone] = found;
  const hours = half ? (Number(h) % 12) + (half.toLowerCase() === 'p' ? 12 : 0) : Number(h);
  const seconds = s === undefined ? 0 : Number(s.replace(',', '.'));
  if (hours > 24 || Number(m) > 59 || seconds >= 61) return null;
  return hours * 3600 + Number(m) * 60 + seconds - zoneOf_s(zone);
}

function zoneOf_s(zone: string | undefined): number {
  const found = zone && /^([+-])(\d{2}):?(\d{2})?$/.exec(zone);
  if (!found) return 0;
  return (found[1] === '-' ? -1 : 1) * (Number(found[2]) * 3600 + Number(found[3] ?? 0) * 60);
}

/**
 * The order the dates of a file are in: the only one in which all of them are dates, else that in which they lie closer together (a harvest takes days,
 * not months), else month first.
 */
export function dateOrder(texts: readonly string[]): DateOrder {
  const open = texts.filter((text) => OTHER_DATE.test(text.trim()));
  const [monthFirst, dayFirst] = (['month first', 'day first'] as const).map((order) => spread(open, order));
  return dayFirst < monthFirst ? 'day first' : 'month first';
}

/** Days between the first and the last; infinite where one of them is no date in that order. */
function spread(texts: readonly string[], order: DateOrder): number {
  let [least, most] = [Infinity, -Infinity];
  for (const text of texts) {
    const days = momentOf(text, order)?.days ?? null;
    if (days === null) return Infinity;
    least = Math.min(least, days);
    most = Math.max(most, days);
  }
  return most - least;
}
