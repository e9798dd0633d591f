import type { Box } from '../engine/geodesy/box.ts';
import { type FieldFrame, ringToLonLat } from '../engine/geodesy/field-frame.ts';
import { extentOf } from '../engine/geometry/extent.ts';
import type { Region, Ring } from '../engine/geometry/ring.ts';

/** Between points this far apart a straight line of the frame bows by 0.2 mm in degrees, at 45° latitude. */
const STEP_M = 100;

/** Where a field lies: the extent of its outline, straight in the frame, and that of its corners alone. Written polygons have corners where cells end, so they lie between the two. */
export function fieldExtents(frame: FieldFrame, region: Region): { extent: Box; cornerExtent: Box } {
  const outers = region.map(({ outer }) => outer);
  return { extent: lonLatExtent(frame, outers.map(stepped)), cornerExtent: lonLatExtent(frame, outers) };
}

function lonLatExtent(frame: FieldFrame, rings: readonly Ring[]): Box {
  const { minX, minY, maxX, maxY } = extentOf(rings.map((ring) => ringToLonLat(frame, ring)));
  return { west: minX, south: minY, east: maxX, north: maxY };
}

function stepped(ring: Ring): Ring {
  const points: number[] = [];
  for (let i = 0; i < ring.length; i += 2) {
    const j = (i + 2) % ring.length;
    const [dx, dy] = [ring[j] - ring[i], ring[j + 1] - ring[i + 1]];
    const steps = Math.ceil(Math.hypot(dx, dy) / STEP_M);
    for (let k = 0; k < steps; k++) points.push(ring[i] + (k / steps) * dx, ring[i + 1] + (k / steps) * dy);
  }
  return Float64Array.from(points);
}
