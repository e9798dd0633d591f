import { type FieldFrame, fieldFrame, wrapLongitude } from './field-frame.ts';

/**
 * The frame centred on the extent of some rings of lon/lat degrees, flat (lon, lat, …). Longitudes are counted from the first vertex,
 * so rings on both sides of the antimeridian get the centre between them. Vertices that are not finite are ignored;
 * refuses (as `fieldFrame`) when none is left or the centre is no place on the ground.
 */
export function frameAround(rings: readonly Float64Array[]): FieldFrame {
  let near = Number.NaN;
  let west = Number.POSITIVE_INFINITY;
  let east = Number.NEGATIVE_INFINITY;
  let south = Number.POSITIVE_INFINITY;
  let north = Number.NEGATIVE_INFINITY;
  for (const ring of rings) {
    for (let i = 0; i + 1 < ring.length; i += 2) {
      if (!Number.isFinite(ring[i]) || !Number.isFinite(ring[i + 1])) continue;
      if (Number.isNaN(near)) near = ring[i];
      const lon = wrapLongitude(ring[i], near);
      west = Math.min(west, lon);
      east = Math.max(east, lon);
      south = Math.min(south, ring[i + 1]);
      north = Math.max(north, ring[i + 1]);
    }
  }
  return fieldFrame((west + east) / 2, (south + north) / 2);
}
