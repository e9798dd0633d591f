import { type Crs, crsToLonLat } from '../geodesy/crs.ts';
import { wrapLongitude } from '../geodesy/field-frame.ts';
import { lonLatToCrs } from '../geodesy/lonlat-to-crs.ts';
import type { Raster } from './source.ts';

/** A block of whole pixels of a raster. */
export interface PixelRange {
  readonly col: number;
  readonly row: number;
  readonly width: number;
  readonly height: number;
}

/**
 * The pixels a stretch of ground needs, with a margin of some pixels all round: those under the upright pixel rectangle around the given places
 * (lon/lat degrees, so many round the outline that lines between them hardly bend). Null when the raster lies elsewhere.
 */
export function pixelsOver(
  raster: Raster,
  crs: Crs,
  lon: Float64Array,
  lat: Float64Array,
  margin: number,
): PixelRange | null {
  const [a, b, c, d, e, f] = raster.transform;
  const middle = (k: 0 | 3) =>
    (raster.transform[k] * raster.width + raster.transform[k + 1] * raster.height) / 2 +
    raster.transform[k + 2];
  // Longitudes are counted from where the raster is: some count from 0 to 360.
  const centre = crsToLonLat(crs, Float64Array.of(middle(0)), Float64Array.of(middle(3))).lon[0];
  const near = Number.isFinite(centre) ? lon.map((own) => wrapLongitude(own, centre)) : lon;
  const { x, y } = lonLatToCrs(crs, near, lat);
  const det = a * e - b * d;
  let [left, right, top, bottom] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < x.length; i++) {
    if (Number.isNaN(x[i])) continue;
    const col = (e * (x[i] - c) - b * (y[i] - f)) / det;
    const row = (a * (y[i] - f) - d * (x[i] - c)) / det;
    left = Math.min(left, col);
    right = Math.max(right, col);
    top = Math.min(top, row);
    bottom = Math.max(bottom, row);
  }
  if (!(right > 0 && bottom > 0 && left < raster.width && top < raster.height)) return null;
  const col = Math.max(0, Math.floor(left) - margin);
  const row = Math.max(0, Math.floor(top) - margin);
  const width = Math.min(raster.width, Math.ceil(right) + margin) - col;
  const height = Math.min(raster.height, Math.ceil(bottom) + margin) - row;
  return { col, row, width, height };
}
