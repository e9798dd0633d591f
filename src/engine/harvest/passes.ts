import { selectMedian } from '../math/select-median.ts';
import { type CuttingOrder, orderOfCutting } from './cutting-order.ts';
import type { HarvestLog, Passes } from './harvest-log.ts';
import { hasPlace } from './has-place.ts';
import { trustedHeader } from './trusted-header.ts';
import { markTurns } from './turns.ts';

/** A pass ends where nothing is recorded for this long, or for this many intervals if that is longer. */
const GAP_S = 10;
const GAP_INTERVALS = 5;
/** A leap is a step of more than this and three times what the usual speed would give in the time. */
const LEAP_M = 10;
const LEAP_SPEEDS = 3;
/** Records in a row that may lie astray and come back: receivers lose themselves for some seconds. */
const MOST_ASTRAY = 15;
/** Records in a row with nothing cut that end a pass; one or two may be a hiccup of the sensor. */
const IDLE_RECORDS = 3;

/**
 * Passes of a log: runs of records cut one after another without a gap in time, a leap, a sharp turn, the header going up or down, or another recorded pass
 * number. Header-up records make passes of their own. A record without a position, or one that leaps away from its pass which then goes on without it, belongs to
 * none (−1), though it may stand between the first and last of one. All figures here are common practice, without a source.
 */
export function findPasses(log: HarvestLog): Passes {
  const { x_m, y_m, passNumber } = log;
  const cutting = orderOfCutting(log);
  const { order, clock_s, interval_s } = cutting;
  const leaps = leapTest(log, cutting);
  const placed = placesOnTrack(log, order, leaps);
  const idle = idleRuns(log, order, placed);
  const gap_s = Math.max(GAP_S, GAP_INTERVALS * interval_s);
  const starts = new Uint8Array(placed.length);
  for (let p = 0; p < placed.length; p++) {
    const here = order[placed[p]];
    const before = order[placed[p - 1]];
    const broken =
      p === 0 ||
      idle[p] !== idle[p - 1] ||
      (clock_s !== null && clock_s[here] - clock_s[before] > gap_s) ||
      (passNumber !== null && Math.abs(passNumber[here] - passNumber[before]) > 0) ||
      leaps(placed[p - 1], placed[p]);
    if (broken) starts[p] = 1;
  }
  markTurns(x_m, y_m, order, placed, starts);
  return { order, ...numberPasses(order, placed, starts), interval_s };
}

function numberPasses(order: Uint32Array, placed: Uint32Array, starts: Uint8Array) {
  const pass = new Int32Array(order.length).fill(-1);
  const first: number[] = [];
  const last: number[] = [];
  for (let p = 0; p < placed.length; p++) {
    if (starts[p]) first.push(placed[p]);
    last[first.length - 1] = placed[p];
    pass[order[placed[p]]] = first.length - 1;
  }
  return { pass, first: Uint32Array.from(first), last: Uint32Array.from(last) };
}

/** Whether the way from one place in the order to a later one is too far for the time. */
type LeapTest = (from: number, to: number) => boolean;

function leapTest({ x_m, y_m }: HarvestLog, { order, clock_s, interval_s }: CuttingOrder): LeapTest {
  const steps = new Float64Array(order.length);
  let count = 0;
  const way = (from: number, to: number) => {
    const dx = x_m[order[to]] - x_m[order[from]];
    const dy = y_m[order[to]] - y_m[order[from]];
    return Math.sqrt(dx * dx + dy * dy);
  };
  for (let k = 1; k < order.length; k++) {
    const step = way(k - 1, k);
    if (step > 0) steps[count++] = step;
  }
  const usual_m = count === 0 ? 0 : selectMedian(steps, count);
  return (from, to) => {
    const intervals = clock_s ? (clock_s[order[to]] - clock_s[order[from]]) / interval_s : to - from;
    return way(from, to) > LEAP_M + LEAP_SPEEDS * usual_m * Math.max(1, intervals);
  };
}

/** Places in the order that have a position and do not lie astray. */
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

/** 1 where the header is up, or nothing is cut for some records, by place on the track. */
function idleRuns(log: HarvestLog, order: Uint32Array, placed: Uint32Array): Uint8Array {
  const header = trustedHeader(log);
  const idle = new Uint8Array(placed.length);
  let run = 0;
  for (let p = 0; p < placed.length; p++) {
    const i = order[placed[p]];
    if (header?.[i] === 0) idle[p] = 1;
    run = log.value[i] <= 0 ? run + 1 : 0;
    if (run === IDLE_RECORDS) idle.fill(1, p + 1 - run, p + 1);
    if (run > IDLE_RECORDS) idle[p] = 1;
  }
  return idle;
}
