import type { HarvestLog, Passes } from './harvest-log.ts';

/** No pass is longer. */
const LONGEST_M = 1e5;

/** Unit vector along the passes, (cos, sin) from east. */
export interface TravelAxes {
  readonly cos: number;
  readonly sin: number;
}

/**
 * The way most of the ground was driven, up or back alike: the mean direction of the passes by doubled angles, weighted by their length (Mardia & Jupp 2000,
 * Directional Statistics, axial data). Of its two ends, the one nearer to the first course driven. Squares laid along it move and turn with the field.
 */
export function travelAxes({ x_m, y_m }: HarvestLog, { order, first, last }: Passes): TravelAxes {
  let c2 = 0;
  let s2 = 0;
  let headX = 0;
  let headY = 0;
  for (let p = 0; p < first.length; p++) {
    const [a, b] = [order[first[p]], order[last[p]]];
    const dx = x_m[b] - x_m[a];
    const dy = y_m[b] - y_m[a];
    const length = Math.hypot(dx, dy);
    if (!(length > 0 && length < LONGEST_M)) continue;
    c2 += (dx * dx - dy * dy) / length;
    s2 += (2 * dx * dy) / length;
    if (headX === 0 && headY === 0) [headX, headY] = [dx, dy];
  }
  const angle = Math.atan2(s2, c2) / 2;
  const sign = headX * Math.cos(angle) + headY * Math.sin(angle) < 0 ? -1 : 1;
  return { cos: sign * Math.cos(angle), sin: sign * Math.sin(angle) };
}
