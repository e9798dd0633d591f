import type { Region } from '../geometry/ring.ts';

/**
 * Heading of the field's longest side, degrees clockwise from north in [0, 180). Sides in line are added up in bins of
 * one degree, so that a side drawn with many vertices counts whole; the answer is the length-weighted mean
 * direction of the winning bin and its two neighbours.
 */
export function longestSideHeading(region: Region): number {
  const length = new Float64Array(180);
  const heading: number[] = [];
  const side: number[] = [];
  for (const { outer } of region) {
    for (let i = 0; i < outer.length; i += 2) {
      const j = (i + 2) % outer.length;
      const dx = outer[j] - outer[i];
      const dy = outer[j + 1] - outer[i + 1];
      const long = Math.hypot(dx, dy);
      if (long === 0) continue;
      const degrees = ((Math.atan2(dx, dy) * 180) / Math.PI + 360) % 180;
      heading.push(degrees);
      side.push(long);
      length[Math.floor(degrees) % 180] += long;
    }
  }
  let best = 0;
  for (let bin = 1; bin < 180; bin++) if (around(length, bin) > around(length, best)) best = bin;
  let sum = 0;
  let offset = 0;
  for (let k = 0; k < heading.length; k++) {
    const away = ((heading[k] - best - 0.5 + 270) % 180) - 90;
    if (Math.abs(away) > 1.5) continue;
    sum += side[k];
    offset += side[k] * away;
  }
  return (best + 0.5 + offset / sum + 180) % 180;
}

function around(length: Float64Array, bin: number): number {
  return length[(bin + 179) % 180] + length[bin] + length[(bin + 1) % 180];
}
