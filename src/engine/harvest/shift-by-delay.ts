import { type GrainRate, grainRate } from './grain-rate.ts';
import type { HarvestLog, Passes } from './harvest-log.ts';
import type { RunClock } from './run-clock.ts';

/** Part of an interval that is none: clocks written with decimals are off by less. */
const NONE = 1e-6;

/**
 * A log with its grain put back to where it was cut: each record takes the grain, and the moisture of it, that was recorded `delay_s` later, between two records by
 * straight line in time. The machine is followed through its whole run, so the last of a pass is taken from the records after the header went up. The grain is
 * divided by the ground of the record it comes to, so a change of speed stays in its place. NaN where the run
 * ends before that, and for a yield over ground not covered. Grain that has mixed on its way stays mixed. `rate` is that of the log and its passes.
 */
export function shiftByDelay(log: HarvestLog, passes: Passes, delay_s: number, rate?: GrainRate): HarvestLog {
  if (delay_s === 0) return log;
  const { grain, ground } = rate ?? grainRate(log, passes);
  const moves: Move[] = [];
  const moved = (from: Float64Array) => {
    const to = new Float64Array(from.length);
    moves.push({ from, to });
    return to;
  };
  const value = moved(grain);
  const flow_kgPerS = log.flow_kgPerS && moved(log.flow_kgPerS);
  const moisture_pct = log.moisture_pct && moved(log.moisture_pct);
  moveBy(delay_s, passes.order, passes.track.clock, moves);
  for (let i = 0; i < value.length; i++) value[i] /= ground[i];
  return { ...log, value, flow_kgPerS, moisture_pct };
}

/** A column, by record, and where it goes. */
interface Move {
  readonly from: Float64Array;
  readonly to: Float64Array;
}

/** Writes columns as they stood `delay_s` after each record; sooner when below zero. NaN where the run of the record has no such moment. */
function moveBy(
  delay_s: number,
  order: Uint32Array,
  { time_s, run, interval_s }: RunClock,
  moves: readonly Move[],
): void {
  const n = order.length;
  // The last place not after the moment wanted.
  let at = 0;
  for (let k = 0; k < n; k++) {
    const wanted_s = time_s[k] + delay_s + NONE * interval_s;
    while (at + 1 < n && time_s[at + 1] <= wanted_s) at++;
    const off_s = time_s[k] + delay_s - time_s[at];
    const exact = Math.abs(off_s) <= NONE * interval_s;
    const within = run[at] === run[k] && off_s >= -NONE * interval_s;
    const next = Math.min(at + 1, n - 1);
    const known = within && (exact || (next > at && run[next] === run[k]));
    const share = off_s / (time_s[next] - time_s[at]);
    const [i, late, later] = [order[k], order[at], order[next]];
    for (let m = 0; m < moves.length; m++) {
      const { from, to } = moves[m];
      to[i] = !known ? NaN : exact ? from[late] : from[late] + share * (from[later] - from[late]);
    }
  }
}
