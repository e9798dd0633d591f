import { ringArea } from './area.ts';
import { type Extent, extentOf } from './extent.ts';
import { orientRing } from './orient.ts';
import { pointInRing, pointWithin } from './point-in-ring.ts';
import type { Region, Ring } from './ring.ts';

/**
 * Rings, wound any way and in any order, as a region: a ring inside an even number of others is an outer ring, inside an
 * odd number a hole of the smallest ring around it. Rings may touch each other or themselves but must not cross; each
 * needs an area. Polygons come in the order of their outer rings.
 */
export function nestRings(rings: readonly Ring[]): Region {
  if (rings.length === 1) return [{ outer: orientRing(rings[0], 'counter-clockwise'), holes: [] }];
  const facts = rings.map((ring, index) => ({
    ring,
    index,
    area: Math.abs(ringArea(ring)),
    extent: extentOf([ring]),
    point: pointWithin(ring),
  }));
  facts.sort((a, b) => b.area - a.area || a.index - b.index);
  const depth: number[] = [];
  const holes = new Map<number, Ring[]>();
  facts.forEach(({ ring, point }, k) => {
    let parent = -1;
    for (let larger = 0; larger < k; larger++) {
      if (!inExtent(facts[larger].extent, point) || !pointInRing(facts[larger].ring, ...point)) continue;
      // By size, so the last one found is the smallest around it.
      parent = larger;
    }
    depth[k] = parent < 0 ? 0 : depth[parent] + 1;
    if (depth[k] % 2 === 0) holes.set(k, []);
    else holes.get(parent)?.push(orientRing(ring, 'clockwise'));
  });
  return facts
    .map(({ ring, index }, k) => ({ ring, index, holes: holes.get(k) }))
    .filter((each) => each.holes !== undefined)
    .sort((a, b) => a.index - b.index)
    .map((each) => ({ outer: orientRing(each.ring, 'counter-clockwise'), holes: each.holes ?? [] }));
}

function inExtent(extent: Extent, [x, y]: readonly [number, number]): boolean {
  return x >= extent.minX && x <= extent.maxX && y >= extent.minY && y <= extent.maxY;
}
