import { ringArea } from '../../engine/geometry/area.ts';
import { type Extent, extentOf } from '../../engine/geometry/extent.ts';
import { pointInRing } from '../../engine/geometry/point-in-ring.ts';
import type { Ring } from '../../engine/geometry/ring.ts';

/** More rings than this in one record are not compared: each is held against every larger one. */
const MOST_RINGS = 2000;
const VERTICES_TRIED = 8;

/**
 * Where winding and containment tell different areas of one record, both in words ('area 2 by winding, 1 by containment', in square units of the file);
 * '' where they agree, and where rings overlap in part or touch so that a few vertices cannot tell.
 */
export function windingRepair(rings: readonly Ring[]): string {
  if (rings.length < 2 || rings.length > MOST_RINGS) return '';
  const facts = rings.map((ring) => ({ ring, area: ringArea(ring), extent: extentOf([ring]) }));
  facts.sort((a, b) => Math.abs(b.area) - Math.abs(a.area));
  let byWinding = 0;
  let byContainment = 0;
  for (const [k, { ring, area, extent }] of facts.entries()) {
    let around = 0;
    for (let larger = 0; larger < k; larger++) {
      if (!covers(facts[larger].extent, extent)) continue;
      const share = shareInside(ring, facts[larger].ring);
      if (share > 0 && share < 1) return '';
      around += share;
    }
    byWinding += area;
    byContainment += around % 2 === 0 ? Math.abs(area) : -Math.abs(area);
  }
  const wound = Math.abs(byWinding);
  if (Math.abs(wound - byContainment) <= 1e-9 * byContainment) return '';
  return `area ${shown(wound)} by winding, ${shown(byContainment)} by containment`;
}

function shareInside(ring: Ring, around: Ring): number {
  const vertices = ring.length / 2;
  const tried = Math.min(VERTICES_TRIED, vertices);
  let inside = 0;
  for (let i = 0; i < tried; i++) {
    const at = 2 * Math.floor((i * vertices) / tried);
    if (pointInRing(around, ring[at], ring[at + 1])) inside++;
  }
  return inside / tried;
}

function covers(outer: Extent, inner: Extent): boolean {
  return (
    outer.minX <= inner.minX &&
    outer.maxX >= inner.maxX &&
    outer.minY <= inner.minY &&
    outer.maxY >= inner.maxY
  );
}

function shown(area: number): string {
  return String(Number(area.toPrecision(6)));
}
