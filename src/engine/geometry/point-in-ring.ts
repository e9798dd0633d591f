import { extentOf } from './extent.ts';
import type { Ring } from './ring.ts';

/** Whether a point lies inside a ring, even-odd; a point exactly on the border may fall either way. */
export function pointInRing(ring: Ring, x: number, y: number): boolean {
  let inside = false;
  for (let i = 0, j = ring.length - 2; i + 1 < ring.length; j = i, i += 2) {
    if (ring[i + 1] > y === ring[j + 1] > y) continue;
    if (x < ring[i] + ((y - ring[i + 1]) / (ring[j + 1] - ring[i + 1])) * (ring[j] - ring[i]))
      inside = !inside;
  }
  return inside;
}

/** A point well inside a ring that does not cross itself: the middle of the widest of three cuts across it. */
export function pointWithin(ring: Ring): readonly [number, number] {
  const { minY, maxY } = extentOf([ring]);
  let best: readonly [number, number] = [ring[0], ring[1]];
  let widest = 0;
  for (const share of [0.29, 0.5, 0.73]) {
    const y = minY + share * (maxY - minY);
    const cuts: number[] = [];
    for (let i = 0, j = ring.length - 2; i + 1 < ring.length; j = i, i += 2) {
      if (ring[i + 1] > y === ring[j + 1] > y) continue;
      cuts.push(ring[i] + ((y - ring[i + 1]) / (ring[j + 1] - ring[i + 1])) * (ring[j] - ring[i]));
    }
    cuts.sort((a, b) => a - b);
    for (let k = 0; k + 1 < cuts.length; k += 2) {
      if (cuts[k + 1] - cuts[k] <= widest) continue;
      widest = cuts[k + 1] - cuts[k];
      best = [(cuts[k] + cuts[k + 1]) / 2, y];
    }
  }
  return best;
}
