import type { Ring } from './ring.ts';

/** Length of a closed ring, in the unit of its coordinates. */
export function ringLength(ring: Ring): number {
  const n = ring.length;
  let length = 0;
  for (let i = 0; i + 1 < n; i += 2) {
    length += Math.hypot(ring[(i + 2) % n] - ring[i], ring[(i + 3) % n] - ring[i + 1]);
  }
  return length;
}
