import type { Region, Ring } from './ring.ts';

/**
 * Signed area of a ring, square units of its coordinates: positive when counter-clockwise. Shoelace about the ring's
 * first vertex, so that a field far from the origin loses no digits. Fewer than three vertices give 0.
 */
export function ringArea(ring: Ring): number {
  const x0 = ring[0];
  const y0 = ring[1];
  let twice = 0;
  for (let i = 2; i + 3 < ring.length; i += 2) {
    twice += (ring[i] - x0) * (ring[i + 3] - y0) - (ring[i + 2] - x0) * (ring[i + 1] - y0);
  }
  return twice / 2;
}

/** Area of a region in m² of the field frame: outer rings less their holes, whatever the winding. */
export function regionArea(region: Region): number {
  let area = 0;
  for (const polygon of region) {
    area += Math.abs(ringArea(polygon.outer));
    for (const hole of polygon.holes) area -= Math.abs(ringArea(hole));
  }
  return area;
}
