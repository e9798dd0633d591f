import type { Column, TextColumn } from '../layers/source.ts';
import { isoSeconds } from './time-bytes.ts';
import { secondsOfClockNumber } from './time-number.ts';
import { type DateOrder, dateOrder, momentOf } from './time-text.ts';

const DAY_S = 86_400;
const WEEK_S = 7 * DAY_S;
/** A clock that starts over more often than this is of records out of order, and is left as it stands. */
const ROLLS = 60;

/** Seconds in one of a unit of time. */
const SCALE: Readonly<Record<string, number>> = { s: 1, ms: 0.001, min: 60, h: 3600, d: DAY_S };

/**
 * Seconds from any start, by record: a column of time in a unit (`s`, `ms`, `min`, `h`, `d`, `hhmmss`) or in text, with a column of dates where there is one.
 * A clock without a date, or with one date for all, is carried on over midnight; GPS seconds over the end of the week. NaN where a record does not say;
 * null where the unit of a column of numbers is not known.
 */
export function timesOf_s(time: Column, unit: string, date: Column | null): Float64Array | null {
  const days = date ? daysOf(date) : null;
  if (time.kind === 'number' && unit !== 'hhmmss') {
    if (!Object.hasOwn(SCALE, unit)) return null;
    const scale = SCALE[unit];
    const seconds = time.values.map((own) => own * scale);
    // Seconds that run on through several dates are counted from the start of the work.
    if (severalDays(days) && within(seconds, DAY_S) && fallsBack(seconds)) return add(seconds, days);
    return within(seconds, WEEK_S) ? carryOn(seconds, within(seconds, DAY_S) ? DAY_S : WEEK_S) : seconds;
  }
  const clock =
    time.kind === 'number' ? { clock: time.values.map(secondsOfClockNumber), dated: false } : clockOf(time);
  if (clock.dated) return clock.clock;
  return severalDays(days) ? add(clock.clock, days) : carryOn(clock.clock, DAY_S);
}

/** Days of dates in text or in numbers like 20240903; NaN where there is none. */
function daysOf(date: Column): Float64Array {
  if (date.kind === 'number')
    return date.values.map((own) => momentOf(String(own), 'month first')?.days ?? NaN);
  const order = dateOrder(date.levels);
  const days = date.levels.map((level) => momentOf(level, order)?.days ?? NaN);
  return Float64Array.from(date.codes, (code) => (code < 0 ? NaN : days[code]));
}

/** Text with a date in it is seconds since 1970, text without one seconds of the day. */
function clockOf(time: TextColumn): { clock: Float64Array; dated: boolean } {
  const iso = time.places && isoSeconds(time.places);
  if (iso) return { clock: iso, dated: true };
  const order: DateOrder = dateOrder(time.levels);
  const moments = time.levels.map((level) => momentOf(level, order));
  const dated = moments.some((moment) => moment?.days != null && moment.clock_s !== null);
  const seconds = moments.map((moment) =>
    moment?.clock_s == null ? NaN : dated ? (moment.days ?? NaN) * DAY_S + moment.clock_s : moment.clock_s,
  );
  return { clock: Float64Array.from(time.codes, (code) => (code < 0 ? NaN : seconds[code])), dated };
}

function add(seconds: Float64Array, days: Float64Array): Float64Array {
  return seconds.map((own, i) => own + days[i] * DAY_S);
}

/** Adds a period each time the clock falls back by more than half of it. */
function carryOn(seconds: Float64Array, period_s: number): Float64Array {
  const carried = seconds.slice();
  let [rolls, before] = [0, NaN];
  for (let i = 0; i < seconds.length; i++) {
    if (Number.isNaN(seconds[i])) continue;
    if (before - seconds[i] > period_s / 2) rolls++;
    before = seconds[i];
    carried[i] = seconds[i] + rolls * period_s;
  }
  return rolls > ROLLS ? seconds : carried;
}

function within(seconds: Float64Array, limit_s: number): boolean {
  return seconds.every((own) => Number.isNaN(own) || (own >= 0 && own <= limit_s));
}

function severalDays(days: Float64Array | null): days is Float64Array {
  const first = days?.find((own) => !Number.isNaN(own));
  return days?.some((own) => !Number.isNaN(own) && own !== first) ?? false;
}

function fallsBack(seconds: Float64Array): boolean {
  return seconds.some((own, i) => i > 0 && own < seconds[i - 1] - DAY_S / 2);
}
