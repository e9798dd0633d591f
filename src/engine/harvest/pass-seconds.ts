import { selectMedian } from '../math/select-median.ts';
import type { HarvestLog, Passes } from './harvest-log.ts';

/** Of a combine that cuts, 4.5 mph. Common practice, no source; it stands in where neither time nor speed is recorded. */
const USUAL_SPEED_M_PER_S = 2;

/** Seconds along the order of cutting, by place in it: recorded, or counted by records as far apart as the distance and speed recorded say, or else the usual step and speed. */
export function passSeconds(log: HarvestLog, passes: Passes): Float64Array {
  const { time_s, recorded } = passes.track.clock;
  if (recorded || (log.distance_m && log.speed_mPerS)) return time_s;
  const interval_s = usualStep_m(log, passes) / USUAL_SPEED_M_PER_S;
  return interval_s > 0 ? time_s.map((_, k) => k * interval_s) : time_s;
}

function usualStep_m({ x_m, y_m }: HarvestLog, { order, pass }: Passes): number {
  const steps = new Float64Array(order.length);
  let count = 0;
  for (let k = 1; k < order.length; k++) {
    const [a, b] = [order[k - 1], order[k]];
    const step = Math.hypot(x_m[b] - x_m[a], y_m[b] - y_m[a]);
    if (pass[a] === pass[b] && step > 0) steps[count++] = step;
  }
  return selectMedian(steps, count);
}
