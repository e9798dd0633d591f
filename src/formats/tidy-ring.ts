import type { Ring } from '../engine/geometry/ring.ts';

/**
 * A ring as files write it (first vertex repeated at the end) to ours (not repeated).
 * `closed` is false when it was not repeated; null when it has fewer than three distinct vertices.
 */
export function tidyRing(flat: Float64Array): { ring: Ring; closed: boolean } | null {
  const n = flat.length;
  const closed = n >= 4 && flat[0] === flat[n - 2] && flat[1] === flat[n - 1];
  const ring = closed ? flat.slice(0, n - 2) : flat;
  return hasThreeCorners(ring) ? { ring, closed } : null;
}

function hasThreeCorners(ring: Ring): boolean {
  let second = -1;
  for (let i = 2; i < ring.length; i += 2) {
    if (ring[i] === ring[0] && ring[i + 1] === ring[1]) continue;
    if (second < 0) second = i;
    else if (ring[i] !== ring[second] || ring[i + 1] !== ring[second + 1]) return true;
  }
  return false;
}
