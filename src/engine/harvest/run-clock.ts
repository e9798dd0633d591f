import { usualOf } from '../math/usual.ts';
import type { HarvestLog } from './harvest-log.ts';

/** Seconds along the order of cutting, and where the machine's record breaks off. By place in the order. */
export interface RunClock {
  readonly time_s: Float64Array;
  /** Stretch of unbroken recording, header up or down, growing along the order. */
  readonly run: Uint32Array;
  readonly interval_s: number;
  /** False when records stand for the clock, `interval_s` apart. */
  readonly recorded: boolean;
}

/** A wait longer than this many intervals breaks a run, and so does a time before the last. Our own choice, no source. */
const WAIT = 2.5;
/** Where no time is recorded, a step longer than this many usual ones does: records between were not written. Our own choice, no source. */
const LEAP = 2;

/** Of a combine that cuts, 4.5 mph. Common practice, no source; it stands in where neither time nor speed is recorded. */
const USUAL_SPEED_M_PER_S = 2;

/** The clock of a log: its times, or where they are missing or stand still, its records. */
export function runClock(log: HarvestLog, order: Uint32Array, interval_s: number): RunClock {
  return (log.time_s && byTime(log.time_s, order, interval_s)) ?? byRecord(log, order, interval_s);
}

function byTime(recorded_s: Float64Array, order: Uint32Array, interval_s: number): RunClock | null {
  const n = order.length;
  const time_s = new Float64Array(n);
  const run = new Uint32Array(n);
  let still = 0;
  for (let k = 1; k < n; k++) {
    const waited = recorded_s[order[k]] - recorded_s[order[k - 1]];
    if (!(waited > 0)) still++;
    const broken = !(waited >= 0 && waited <= WAIT * interval_s);
    run[k] = run[k - 1] + (broken ? 1 : 0);
    time_s[k] = time_s[k - 1] + (waited >= 0 ? waited : interval_s);
  }
  return 2 * still > n ? null : { time_s, run, interval_s, recorded: true };
}

function byRecord(log: HarvestLog, order: Uint32Array, usual_s: number): RunClock {
  const n = order.length;
  const step_m = stepsOf(log, order);
  const usual_m = usualOf(n, (k) => (step_m[k] > 0 ? step_m[k] : NaN));
  const walked_s = usual_m / USUAL_SPEED_M_PER_S;
  const interval_s = drivenInterval_s(log) ?? (walked_s > 0 ? walked_s : usual_s > 0 ? usual_s : 1);
  const leap_m = LEAP * usual_m;
  const run = new Uint32Array(n);
  for (let k = 1; k < n; k++) run[k] = run[k - 1] + (step_m[k] > leap_m ? 1 : 0);
  return {
    time_s: Float64Array.from({ length: n }, (_, k) => k * interval_s),
    run,
    interval_s,
    recorded: false,
  };
}

/** Seconds a record by the way driven in it and the speed; null where the log lacks either. */
function drivenInterval_s({ distance_m, speed_mPerS, records }: HarvestLog): number | null {
  if (!distance_m || !speed_mPerS) return null;
  const seconds = usualOf(records, (i) => (speed_mPerS[i] > 0 ? distance_m[i] / speed_mPerS[i] : NaN));
  return seconds > 0 ? seconds : null;
}

function stepsOf({ x_m, y_m }: HarvestLog, order: Uint32Array): Float64Array {
  const step_m = new Float64Array(order.length);
  for (let k = 1; k < order.length; k++) {
    step_m[k] = Math.hypot(x_m[order[k]] - x_m[order[k - 1]], y_m[order[k]] - y_m[order[k - 1]]);
  }
  return step_m;
}
