import type { HarvestLog, Passes } from './harvest-log.ts';

/** A wait up to this many intervals is one interval on a clock that ticks unevenly. */
const UNEVEN = 2.5;

/**
 * Metres a second, by record: as recorded, or else the distance recorded over the time since the record before, or else the step from there in its pass. NaN
 * where that is not known; null where the log tells neither speed nor time.
 */
export function groundSpeed(log: HarvestLog, passes: Passes): Float64Array | null {
  if (log.speed_mPerS) return log.speed_mPerS;
  const { x_m, y_m, distance_m } = log;
  const { order, pass } = passes;
  const { time_s, interval_s, recorded } = passes.track.clock;
  if (!recorded) return null;
  const speed = new Float64Array(log.records).fill(NaN);
  for (let k = 0; k < order.length; k++) {
    const i = order[k];
    const before = k === 0 ? -1 : order[k - 1];
    const wait_s = k === 0 ? interval_s : time_s[k] - time_s[k - 1];
    const even = wait_s <= UNEVEN * interval_s;
    const samePass = k > 0 && pass[i] === pass[before];
    // After a break nobody knows how much of the wait the distance took.
    if (!even && !samePass) continue;
    const took_s = even ? interval_s : wait_s;
    if (distance_m) speed[i] = distance_m[i] / took_s;
    else if (samePass) speed[i] = Math.hypot(x_m[i] - x_m[before], y_m[i] - y_m[before]) / took_s;
  }
  return speed;
}
