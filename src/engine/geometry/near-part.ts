import { ringArea } from './area.ts';
import type { Extent } from './extent.ts';
import { pointInRing } from './point-in-ring.ts';
import type { Ring } from './ring.ts';

/** What of some rings is near an extent: nothing, all the ground there, or rings that are theirs within it. */
type NearPart = 'none' | 'all' | readonly Ring[];

/**
 * Rings without the vertices that do not matter to an extent, so that an overlay with something small does not pay for borders far from it. A border that stays
 * on one outer side of the extent is drawn straight there, which leaves the winding of every point within as it was: the rings given are fit for an overlay
 * with what lies within the extent, and for nothing else.
 */
export function nearPart(rings: readonly Ring[], extent: Extent): NearPart {
  let enters = false;
  const near: Ring[] = [];
  for (const ring of rings) {
    const thin = thinned(ring, extent);
    enters ||= thin.enters;
    if (thin.ring.length >= 6) near.push(thin.ring);
  }
  if (enters) return near;
  const around = near.filter((ring) => pointInRing(ring, extent.minX, extent.minY));
  return around.reduce((turns, ring) => turns + Math.sign(ringArea(ring)), 0) === 0 ? 'none' : 'all';
}

/** A ring without vertices between which it stays on one outer side, and whether any edge may enter the extent. */
function thinned(ring: Ring, extent: Extent): { ring: Ring; enters: boolean } {
  const n = ring.length / 2;
  const kept: number[] = [];
  let enters = false;
  let last = sidesOf(ring, n - 1, extent);
  let common = last;
  for (let i = 0; i < n; i++) {
    const sides = sidesOf(ring, i, extent);
    if ((last & sides) === 0) enters = true;
    // The vertex before goes where the way past it stays on a side that all of it since the last one kept is on.
    if ((common & sides) !== 0) {
      common &= sides;
    } else {
      if (i > 0) kept.push(i - 1);
      common = last & sides;
    }
    last = sides;
  }
  kept.push(n - 1);
  if (kept.length === n) return { ring, enters };
  const thin = new Float64Array(2 * kept.length);
  kept.forEach((vertex, k) => {
    thin[2 * k] = ring[2 * vertex];
    thin[2 * k + 1] = ring[2 * vertex + 1];
  });
  return { ring: thin, enters };
}

/** The outer sides of the extent a vertex is on, a bit each; 0 within it. */
function sidesOf(ring: Ring, vertex: number, { minX, minY, maxX, maxY }: Extent): number {
  const x = ring[2 * vertex];
  const y = ring[2 * vertex + 1];
  return (x < minX ? 1 : x > maxX ? 2 : 0) | (y < minY ? 4 : y > maxY ? 8 : 0);
}
