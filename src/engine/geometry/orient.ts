import { ringArea } from './area.ts';
import type { Ring } from './ring.ts';

/** The ring wound the way asked for: itself, or its vertices in reverse. */
export function orientRing(ring: Ring, winding: 'clockwise' | 'counter-clockwise'): Ring {
  if (ringArea(ring) > 0 === (winding === 'counter-clockwise')) return ring;
  const reversed = new Float64Array(ring.length);
  for (let i = 0; i + 1 < ring.length; i += 2) {
    reversed[i] = ring[ring.length - 2 - i];
    reversed[i + 1] = ring[ring.length - 1 - i];
  }
  return reversed;
}
