import { usualOf } from '../math/usual.ts';
import type { HarvestLog } from './harvest-log.ts';

const DAY_S = 86_400;
/** A clock of the day that is busy about midnight and rests this long at another time was left running past midnight. */
const REST_S = 3600;
const BUSY_S = 600;
/** A step further than this from one record to the next is no driving. */
const FAR_M = 30;
/** The clock is not believed when it makes more than this share of the steps far, and five times as many as the file's order. */
const MIXED_SHARE = 0.05;
/** Waits longer than this many medians are stops. */
const USUAL_MEDIANS = 2.5;

export interface CuttingOrder {
  /** Records, first cut first. */
  readonly order: Uint32Array;
  /** Seconds by record, growing along the order; null where no time is recorded or the clock is not believed. */
  readonly clock_s: Float64Array | null;
  /** Usual seconds from one record to the next; 1 where nothing tells. */
  readonly interval_s: number;
}

/**
 * The order in which records were cut: by time, rows of one time as in the file, a row without a time after the row before it. A clock that starts again
 * at midnight is followed past it. Where time leaps about the field and the file's order does not (two machines in one file, a clock without days),
 * the file's order stands.
 */
export function orderOfCutting(log: HarvestLog): CuttingOrder {
  const filed = new Uint32Array(log.records);
  for (let i = 0; i < filed.length; i++) filed[i] = i;
  const clock_s = log.time_s && runningClock(log.time_s);
  if (!clock_s) return { order: filed, clock_s: null, interval_s: untimedInterval(log) };
  if (isSorted(clock_s)) return { order: filed, clock_s, interval_s: usualInterval(clock_s, filed) };
  const order = filed.slice().sort((a, b) => clock_s[a] - clock_s[b] || a - b);
  const far = farSteps(log, order);
  if (far > MIXED_SHARE * log.records && far > 5 * farSteps(log, filed)) {
    return { order: filed, clock_s: null, interval_s: usualInterval(clock_s, filed) };
  }
  return { order, clock_s, interval_s: usualInterval(clock_s, order) };
}

/** Every record with a time, midnight passed; null when none has. */
function runningClock(time_s: Float64Array): Float64Array | null {
  let last = time_s.find(Number.isFinite);
  if (last === undefined) return null;
  const clock = new Float64Array(time_s.length);
  let first = Infinity;
  let latest = -Infinity;
  for (let i = 0; i < clock.length; i++) {
    if (Number.isFinite(time_s[i])) last = time_s[i];
    clock[i] = last;
    if (last < first) first = last;
    if (last > latest) latest = last;
  }
  if (first < 0 || first > BUSY_S || latest >= DAY_S || latest < DAY_S - BUSY_S) return clock;
  const sorted = clock.slice().sort();
  let rest = 0;
  for (let i = 1; i < sorted.length; i++)
    if (sorted[i] - sorted[i - 1] > sorted[rest + 1] - sorted[rest]) rest = i - 1;
  if (!(sorted[rest + 1] - sorted[rest] >= REST_S)) return clock;
  const evening = sorted[rest + 1];
  return clock.map((own) => (own < evening ? own + DAY_S : own));
}

function isSorted(clock_s: Float64Array): boolean {
  for (let i = 1; i < clock_s.length; i++) if (clock_s[i] < clock_s[i - 1]) return false;
  return true;
}

/** Mean of the usual steps forward, those up to 2.5 medians: a clock written in fractions of a day ticks unevenly, and the mean sees through it. */
function usualInterval(clock_s: Float64Array, order: Uint32Array): number {
  const stepTo = (k: number) => clock_s[order[k]] - clock_s[order[k - 1]];
  const middle = usualOf(order.length - 1, (k) => (stepTo(k + 1) > 0 ? stepTo(k + 1) : NaN));
  let sum = 0;
  let usual = 0;
  for (let k = 1; k < order.length; k++) {
    const step = stepTo(k);
    if (!(step > 0 && step <= USUAL_MEDIANS * middle)) continue;
    sum += step;
    usual++;
  }
  return usual === 0 ? 1 : sum / usual;
}

/** Median of distance over speed, where both are recorded. */
function untimedInterval({ records, distance_m, speed_mPerS }: HarvestLog): number {
  if (!distance_m || !speed_mPerS) return 1;
  const usual_s = usualOf(records, (i) => {
    const step = distance_m[i] / speed_mPerS[i];
    return step > 0 && step < Infinity ? step : NaN;
  });
  return Number.isNaN(usual_s) ? 1 : usual_s;
}

function farSteps({ x_m, y_m }: HarvestLog, order: Uint32Array): number {
  let far = 0;
  for (let k = 1; k < order.length; k++) {
    const [i, j] = [order[k - 1], order[k]];
    if (Math.hypot(x_m[j] - x_m[i], y_m[j] - y_m[i]) > FAR_M) far++;
  }
  return far;
}
