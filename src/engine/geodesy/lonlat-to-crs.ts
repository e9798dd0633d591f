import proj4 from 'proj4';
import type { Crs } from './crs.ts';

/**
 * Longitude and latitude in degrees on WGS 84 as coordinates of a system: the inverse of `crsToLonLat`. A place that is not finite, or has no
 * coordinates in that system, gives NaN for both.
 */
export function lonLatToCrs(
  crs: Crs,
  lon: Float64Array,
  lat: Float64Array,
): { x: Float64Array; y: Float64Array } {
  const x = new Float64Array(lon.length).fill(Number.NaN);
  const y = new Float64Array(lon.length).fill(Number.NaN);
  const converter = crs.proj4 === null ? null : proj4('+proj=longlat +datum=WGS84 +no_defs', crs.proj4);
  for (let i = 0; i < lon.length; i++) {
    // The library throws on what is not finite.
    if (!Number.isFinite(lon[i]) || !(Math.abs(lat[i]) <= 90)) continue;
    const point = converter ? converter.forward([lon[i], lat[i]]) : [lon[i], lat[i]];
    if (!Number.isFinite(point[0]) || !Number.isFinite(point[1])) continue;
    x[i] = point[0];
    y[i] = point[1];
  }
  return { x, y };
}
