import type { Box } from '../../engine/geodesy/box.ts';
import { fieldFrame, ringToFrame } from '../../engine/geodesy/field-frame.ts';
import { regionArea, ringArea } from '../../engine/geometry/area.ts';
import { union } from '../../engine/geometry/overlay.ts';
import type { Polygon, Region, Ring } from '../../engine/geometry/ring.ts';
import type { Source } from '../../engine/layers/source.ts';

/** Unions of neighbours first: the sweep over all at once would carry every edge of the field along. */
const AT_ONCE = 1000;

/** How much of the polygons of a layer, lon/lat degrees, lies over others of them, m²: their areas added up, less the area of their union. */
export function overlap_m2(layer: Source, { west, south, east, north }: Box): number {
  const frame = fieldFrame((west + east) / 2, (south + north) / 2);
  const records = layer.rings.map((rings) => record((rings ?? []).map((ring) => ringToFrame(frame, ring))));
  const parts: Region[] = [];
  for (let k = 0; k < records.length; k += AT_ONCE) parts.push(union(records.slice(k, k + AT_ONCE)));
  return records.reduce((sum, region) => sum + regionArea(region), 0) - regionArea(union(parts));
}

/** Rings as a shapefile winds them, outer ones clockwise. Which outer ring a hole is in does not matter to areas and unions. */
function record(rings: readonly Ring[]): Region {
  const outers = rings.filter((ring) => ringArea(ring) < 0);
  const holes = rings.filter((ring) => ringArea(ring) >= 0);
  return outers.map((outer, k): Polygon => ({ outer, holes: k === 0 ? holes : [] }));
}
