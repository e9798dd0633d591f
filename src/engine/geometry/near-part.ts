import { ringArea } from './area.ts';
import type { Extent } from './extent.ts';
import { pointInRing } from './point-in-ring.ts';
import type { Ring } from './ring.ts';

/** What of some rings is near an extent: nothing, all the ground there, or rings that are theirs within it. */
type NearPart = 'none' | 'all' | readonly Ring[];

/**
 * Rings cut down to an extent, so that an overlay with something small does not pay for borders far from it. Outside the extent the rings given run along it;
 * inside, the winding of every point is as it was, so they are fit for an overlay with what lies within, and for nothing else. An edge that is cut is cut at the
 * same point whichever way round it is walked: neighbours still share it. Method: Sutherland and Hodgman, Reentrant polygon clipping, Communications of the ACM
 * 17 (1974) 32–42.
 */
export function nearPart(rings: readonly Ring[], extent: Extent): NearPart {
  const touching = rings.filter((ring) => anyEdgeMeets(ring, extent));
  if (touching.length === 0) {
    const around = rings.filter((ring) => pointInRing(ring, extent.minX, extent.minY));
    return around.reduce((turns, ring) => turns + Math.sign(ringArea(ring)), 0) === 0 ? 'none' : 'all';
  }
  const cut = rings.map((ring) => {
    const west = cutAt(ring, 0, extent.minX, 1);
    const middle = cutAt(cutAt(west, 0, extent.maxX, -1), 1, extent.minY, 1);
    return cutAt(middle, 1, extent.maxY, -1);
  });
  return cut.filter((ring) => ring.length >= 6);
}

/** Whether the extent of any edge meets the extent: never false for an edge that does. */
function anyEdgeMeets(ring: Ring, { minX, minY, maxX, maxY }: Extent): boolean {
  let x = ring[ring.length - 2];
  let y = ring[ring.length - 1];
  for (let i = 0; i < ring.length; i += 2) {
    const toX = ring[i];
    const toY = ring[i + 1];
    const apart =
      (x < minX && toX < minX) ||
      (x > maxX && toX > maxX) ||
      (y < minY && toY < minY) ||
      (y > maxY && toY > maxY);
    if (!apart) return true;
    x = toX;
    y = toY;
  }
  return false;
}

/** The part of a ring where coordinate `axis` is at least the limit (`side` 1) or at most (−1), closed along the limit. */
function cutAt(ring: Ring, axis: 0 | 1, limit: number, side: 1 | -1): Ring {
  const n = ring.length;
  let within = true;
  for (let i = axis; i < n && within; i += 2) within = side * (ring[i] - limit) >= 0;
  if (within) return ring;
  const kept = new Float64Array(2 * n);
  let at = 0;
  for (let i = 0; i < n; i += 2) {
    const j = i + 2 === n ? 0 : i + 2;
    const here = side * (ring[i + axis] - limit);
    const next = side * (ring[j + axis] - limit);
    if (here >= 0) {
      kept[at] = ring[i];
      kept[at + 1] = ring[i + 1];
      at += 2;
    }
    if (here >= 0 === next >= 0 || here === 0 || next === 0) continue;
    // From the lower end, whichever comes first on the way.
    const [from, to] = ring[i + axis] < ring[j + axis] ? [i, j] : [j, i];
    const share = (limit - ring[from + axis]) / (ring[to + axis] - ring[from + axis]);
    const other = 1 - axis;
    kept[at + axis] = limit;
    kept[at + other] = ring[from + other] + share * (ring[to + other] - ring[from + other]);
    at += 2;
  }
  return kept.slice(0, at);
}
