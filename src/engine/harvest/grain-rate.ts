import { usualOf } from '../math/usual.ts';
import type { HarvestLog, Passes } from './harvest-log.ts';

/**
 * A yield taken apart into what reached the sensor and the ground the record says was covered: value = grain / ground, by record. The grain is late, the
 * ground is not, so only the grain is moved. `ground` is in m² (m, m²/s or m/s where the log lacks a width or a way).
 */
export interface GrainRate {
  readonly grain: Float64Array;
  readonly ground: Float64Array;
}

/** Records that cover less than this share of the usual ground stand nearly still: grain over such ground says nothing. Our own choice, no source. */
const LEAST_GROUND = 0.1;

/**
 * Grain and ground of every record, by the way or the speed recorded, else by the places. Where a record covers no ground its ground is NaN and its grain known by the flow
 * only; NaN without one.
 */
export function grainRate(log: HarvestLog, passes: Passes): GrainRate {
  const n = log.records;
  const { swath_m: width, flow_kgPerS: flow, value } = log;
  const way = log.distance_m ?? log.speed_mPerS ?? wayByPlaces(log, passes);
  const ground = new Float64Array(n);
  const grain = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    ground[i] = width ? way[i] * width[i] : way[i];
    grain[i] = ground[i] * value[i];
  }
  const least = LEAST_GROUND * usualOf(n, (i) => (ground[i] > 0 ? ground[i] : NaN));
  const grainPerFlow = flow
    ? usualOf(n, (i) => (flow[i] > 0 && ground[i] > least ? grain[i] / flow[i] : NaN))
    : NaN;
  for (let i = 0; i < n; i++) {
    if (ground[i] > least) continue;
    grain[i] = flow ? flow[i] * grainPerFlow : NaN;
    ground[i] = NaN;
  }
  return { grain, ground };
}

/**
 * Way of a record since the one before, m: a third of the way from two records before to the next, which lies round the same moment and steadies the
 * receiver's error. Fewer records at the ends of a run; NaN beside a place that is not known or astray.
 */
function wayByPlaces({ x_m, y_m, records }: HarvestLog, { order, pass, track }: Passes): Float64Array {
  const { run } = track.clock;
  const way_m = new Float64Array(records).fill(NaN);
  const joined = (a: number, b: number) => b >= 0 && b < order.length && run[a] === run[b];
  for (let k = 0; k < order.length; k++) {
    const from = joined(k, k - 2) ? k - 2 : joined(k, k - 1) ? k - 1 : k;
    const to = joined(k, k + 1) ? k + 1 : k;
    let placed = to > from;
    for (let j = from; j <= to; j++) if (pass[order[j]] < 0) placed = false;
    if (!placed) continue;
    const [a, b] = [order[from], order[to]];
    way_m[order[k]] = Math.hypot(x_m[b] - x_m[a], y_m[b] - y_m[a]) / (to - from);
  }
  return way_m;
}
