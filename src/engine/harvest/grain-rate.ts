import { usualOf } from '../math/usual.ts';
import type { HarvestLog } from './harvest-log.ts';

/**
 * A yield taken apart into what reached the sensor and the ground the record says was covered: value = grain / ground, by record. The grain is late, the
 * ground is not, so only the grain is moved. `ground` is in m² (m, m²/s or m/s where the log lacks a width or a way) and 1 where nothing tells of it.
 */
export interface GrainRate {
  readonly grain: Float64Array;
  readonly ground: Float64Array;
  readonly groundKnown: boolean;
}

/** Records that cover less than this share of the usual ground stand nearly still: grain over such ground says nothing. */
export const LEAST_GROUND = 0.1;

/** Grain and ground of every record. Where a record covers no ground its grain is known by the flow only; NaN without one. */
export function grainRate(log: HarvestLog): GrainRate {
  const n = log.records;
  const way = log.distance_m ?? log.speed_mPerS;
  const ground = new Float64Array(n).fill(1);
  if (!way) return { grain: log.value, ground, groundKnown: false };
  const width = log.swath_m;
  const grain = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    ground[i] = way[i] * (width ? width[i] : 1);
    grain[i] = log.value[i] * ground[i];
  }
  const flow = log.flow_kgPerS;
  const least = LEAST_GROUND * usualOf(n, (i) => (ground[i] > 0 ? ground[i] : NaN));
  const grainPerFlow = flow
    ? usualOf(n, (i) => (flow[i] > 0 && ground[i] > least ? grain[i] / flow[i] : NaN))
    : NaN;
  for (let i = 0; i < n; i++) {
    if (ground[i] > least) continue;
    grain[i] = flow ? flow[i] * grainPerFlow : NaN;
    ground[i] = NaN;
  }
  return { grain, ground, groundKnown: true };
}
