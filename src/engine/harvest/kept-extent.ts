import type { HarvestLog } from './harvest-log.ts';
import type { TravelAxes } from './travel-axes.ts';

/** How far kept records reach along the passes (u) and to the left of them (v), m; infinite, the wrong way round, where none is kept. */
export interface KeptExtent {
  readonly count: number;
  readonly minU: number;
  readonly maxU: number;
  readonly minV: number;
  readonly maxV: number;
}

/** Of the kept records, which must have positions. */
export function keptExtent(
  { records, x_m, y_m }: HarvestLog,
  { cos, sin }: TravelAxes,
  kept: Uint8Array,
): KeptExtent {
  let count = 0;
  let minU = Infinity;
  let maxU = -Infinity;
  let minV = Infinity;
  let maxV = -Infinity;
  for (let i = 0; i < records; i++) {
    if (!kept[i]) continue;
    count++;
    const u = x_m[i] * cos + y_m[i] * sin;
    const v = y_m[i] * cos - x_m[i] * sin;
    if (u < minU) minU = u;
    if (u > maxU) maxU = u;
    if (v < minV) minV = v;
    if (v > maxV) maxV = v;
  }
  return { count, minU, maxU, minV, maxV };
}
