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
  const clock = passes.track.clock;
  const { grain, ground } = rate ?? grainRate(log, passes);
  const later = readLater(passes.order, clock, delay_s);
  const value = later(grain);
  for (let i = 0; i < value.length; i++) value[i] /= ground[i];
  return {
    ...log,
    value,
    flow_kgPerS: log.flow_kgPerS && later(log.flow_kgPerS),
    moisture_pct: log.moisture_pct && later(log.moisture_pct),
  };
}

/** Reads any column, by record, as it stood `delay_s` after each record; sooner when below zero. */
function readLater(
  order: Uint32Array,
  { time_s, run, interval_s }: RunClock,
  delay_s: number,
): (column: Float64Array) => Float64Array {
  const n = order.length;
  // The last place of the same run not after the moment wanted (n where none is), and the share of the way to the next.
  const before = new Uint32Array(n).fill(n);
  const share = new Float64Array(n);
  let at = 0;
  for (let k = 0; k < n; k++) {
    const wanted_s = time_s[k] + delay_s + NONE * interval_s;
    while (at + 1 < n && time_s[at + 1] <= wanted_s) at++;
    const off_s = time_s[k] + delay_s - time_s[at];
    const exact = Math.abs(off_s) <= NONE * interval_s;
    if (run[at] !== run[k] || off_s < -NONE * interval_s) continue;
    if (!exact && (at + 1 === n || run[at + 1] !== run[k])) continue;
    before[k] = at;
    share[k] = exact ? 0 : off_s / (time_s[at + 1] - time_s[at]);
  }
  return (column) => {
    const moved = new Float64Array(column.length).fill(NaN);
    for (let k = 0; k < n; k++) {
      if (before[k] === n) continue;
      const here = column[order[before[k]]];
      moved[order[k]] = share[k] === 0 ? here : here + share[k] * (column[order[before[k] + 1]] - here);
    }
    return moved;
  };
}
