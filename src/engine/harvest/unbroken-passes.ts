import type { HarvestLog, Passes } from './harvest-log.ts';
import { trustedHeader } from './trusted-header.ts';

/** A wait or a way longer than these breaks off the flow of grain. Common practice, no source. */
const MOST_WAIT_S = 10;
const MOST_WAY_M = 15;
/** Courses are taken over this many records. */
const COURSE_RECORDS = 5;
/** Nobody cuts round a sharper corner than this (cosine of 120°): the machine turned with the header up. */
const SHARPEST_COS = -0.5;

/** By pass: 1 where the one before it ran into it with the header down, round a corner of the field say, so that grain never stopped. `time_s` by place in the order. */
export function unbrokenPasses(log: HarvestLog, passes: Passes, time_s: Float64Array): Uint8Array {
  const { x_m, y_m, value } = log;
  const { order, first, last } = passes;
  const header = trustedHeader(log);
  const cuts = (i: number) => header?.[i] !== 0 && value[i] > 0;
  const unbroken = new Uint8Array(first.length);
  for (let p = 1; p < first.length; p++) {
    const [a, b] = [order[last[p - 1]], order[first[p]]];
    if (!cuts(a) || !cuts(b)) continue;
    if (time_s[first[p]] - time_s[last[p - 1]] > MOST_WAIT_S) continue;
    if (Math.hypot(x_m[b] - x_m[a], y_m[b] - y_m[a]) > MOST_WAY_M) continue;
    const before = order[Math.max(first[p - 1], last[p - 1] - COURSE_RECORDS)];
    const after = order[Math.min(last[p], first[p] + COURSE_RECORDS)];
    const [ux, uy] = [x_m[a] - x_m[before], y_m[a] - y_m[before]];
    const [vx, vy] = [x_m[after] - x_m[b], y_m[after] - y_m[b]];
    if (ux * vx + uy * vy < SHARPEST_COS * Math.hypot(ux, uy) * Math.hypot(vx, vy)) continue;
    unbroken[p] = 1;
  }
  return unbroken;
}
