import { usualOf } from '../math/usual.ts';
import { type CuttingOrder, orderOfCutting } from './cutting-order.ts';
import type { HarvestLog } from './harvest-log.ts';
import { hasPlace } from './has-place.ts';
import { type RunClock, runClock } from './run-clock.ts';

/** A way ends where nothing is recorded for this long, or for this many intervals if that is longer. */
const GAP_S = 10;
const GAP_INTERVALS = 5;
/** A leap is a step of more than this and three times what the usual speed would give in the time. */
const LEAP_M = 10;
const LEAP_SPEEDS = 3;
/** Records in a row that may lie astray and come back: receivers lose themselves for some seconds. */
const MOST_ASTRAY = 15;

/** The way a machine went, whatever grain it is said to have cut there: moving the grain leaves it as it is. */
export interface Track {
  /** Records by order of time (of the file where no time is recorded). */
  readonly order: Uint32Array;
  readonly clock: RunClock;
  /** Usual seconds from one record to the next. */
  readonly interval_s: number;
  /** Places in the order that have a position and do not lie astray. */
  readonly placed: Uint32Array;
  /** Where they lie, by place in `placed`: side by side in memory, as the way goes. */
  readonly x_m: Float64Array;
  readonly y_m: Float64Array;
  /** By place in `placed`: 1 where the way begins or begins anew, after a gap in time, a leap or with another recorded pass number. */
  readonly breaks: Uint8Array;
}

/** The way through a log. A record without a position, or one that leaps away from the way which then goes on without it, is not on it. */
export function followTrack(log: HarvestLog): Track {
  const { passNumber } = log;
  const cutting = orderOfCutting(log);
  const { order, clock_s, interval_s } = cutting;
  const leaps = leapTest(log, cutting);
  const placed = placesOnTrack(log, order, leaps);
  const x_m = new Float64Array(placed.length);
  const y_m = new Float64Array(placed.length);
  for (let p = 0; p < placed.length; p++) {
    x_m[p] = log.x_m[order[placed[p]]];
    y_m[p] = log.y_m[order[placed[p]]];
  }
  const gap_s = Math.max(GAP_S, GAP_INTERVALS * interval_s);
  const breaks = new Uint8Array(placed.length);
  for (let p = 0; p < placed.length; p++) {
    const here = order[placed[p]];
    const before = order[placed[p - 1]];
    const broken =
      p === 0 ||
      (clock_s !== null && clock_s[here] - clock_s[before] > gap_s) ||
      (passNumber !== null && Math.abs(passNumber[here] - passNumber[before]) > 0) ||
      leaps(placed[p - 1], placed[p]);
    if (broken) breaks[p] = 1;
  }
  return { order, clock: runClock(log, order, interval_s), interval_s, placed, x_m, y_m, breaks };
}

/** Whether the way from one place in the order to a later one is too far for the time. */
type LeapTest = (from: number, to: number) => boolean;

function leapTest({ x_m, y_m }: HarvestLog, { order, clock_s, interval_s }: CuttingOrder): LeapTest {
  const way = (from: number, to: number) => {
    const dx = x_m[order[to]] - x_m[order[from]];
    const dy = y_m[order[to]] - y_m[order[from]];
    return Math.sqrt(dx * dx + dy * dy);
  };
  const usual_m = usualOf(order.length - 1, (k) => way(k, k + 1) || NaN) || 0;
  return (from, to) => {
    const gone = way(from, to);
    if (!(gone > LEAP_M + LEAP_SPEEDS * usual_m)) return false;
    const intervals = clock_s ? (clock_s[order[to]] - clock_s[order[from]]) / interval_s : to - from;
    return gone > LEAP_M + LEAP_SPEEDS * usual_m * Math.max(1, intervals);
  };
}

function placesOnTrack({ x_m, y_m }: HarvestLog, order: Uint32Array, leaps: LeapTest): Uint32Array {
  const track = new Uint32Array(order.length);
  let positioned = 0;
  for (let k = 0; k < order.length; k++) {
    if (hasPlace(x_m[order[k]], y_m[order[k]])) track[positioned++] = k;
  }
  // Places astray are dropped in the same array: the next to write is never ahead of the next to read.
  let count = 0;
  for (let p = 0; p < positioned; p++) {
    if (count > 0 && leaps(track[count - 1], track[p])) {
      for (let q = p + 1; q < positioned && q <= p + MOST_ASTRAY; q++) {
        if (leaps(track[count - 1], track[q]) || !leaps(track[q - 1], track[q])) continue;
        p = q;
        break;
      }
    }
    track[count++] = track[p];
  }
  return track.subarray(0, count);
}
