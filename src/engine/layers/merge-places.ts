import type { BinnedPoints } from './bin-points.ts';

/** Points of distinct places, numbered along the squares that hold them. */
export interface Places extends BinnedPoints {
  readonly value: Float64Array;
}

/** Points of one place become one with their mean: a place measured twice would leave kriging without an answer. */
export function mergePlaces(bins: BinnedPoints, value: Float64Array): Places {
  const most = bins.order.length;
  const start = new Int32Array(bins.start.length);
  const u = new Float64Array(most);
  const v = new Float64Array(most);
  const mean = new Float64Array(most);
  let count = 0;
  for (let square = 0; square + 1 < start.length; square++) {
    const points = bins.order.slice(bins.start[square], bins.start[square + 1]);
    if (points.length > 1) points.sort((a, b) => bins.u[a] - bins.u[b] || bins.v[a] - bins.v[b] || a - b);
    for (let k = 0; k < points.length; ) {
      u[count] = bins.u[points[k]];
      v[count] = bins.v[points[k]];
      const first = k;
      let sum = 0;
      for (; k < points.length && bins.u[points[k]] === u[count] && bins.v[points[k]] === v[count]; k++) {
        sum += value[points[k]];
      }
      mean[count++] = sum / (k - first);
    }
    start[square + 1] = count;
  }
  return {
    start,
    order: Int32Array.from({ length: count }, (_, k) => k),
    u: u.subarray(0, count),
    v: v.subarray(0, count),
    value: mean.subarray(0, count),
  };
}
