import proj4 from 'proj4';
import type { Issue } from '../issue.ts';
import { epsgEntry } from './epsg.ts';
import { readWktCrs } from './wkt-crs.ts';

/** A coordinate system we have verified. `proj4` is null when coordinates already are WGS 84 lon/lat degrees. */
export interface Crs {
  /** `EPSG:32612`, or `custom` for one known only by its parameters. */
  readonly code: string;
  readonly name: string;
  readonly proj4: string | null;
}

/** Longitude and latitude in degrees on WGS 84, in this order. */
export const WGS84: Crs = { code: 'EPSG:4326', name: 'WGS 84', proj4: null };

/** The system of an EPSG code, or null when it is not among those we have verified. */
export function crsFromEpsg(code: number): Crs | null {
  const entry = epsgEntry(code);
  return entry && { code: `EPSG:${code}`, name: entry.name, proj4: entry.proj4 };
}

/**
 * The system described by well-known text (WKT 1 of either dialect, WKT 2), recognised by its parameters and not by
 * its name. `crs` is null with an error among `issues` (`crs-unreadable`, `crs-datum-not-supported`,
 * `crs-projection-not-supported`); notes tell what was assumed. `where` names the file in them.
 */
export function crsFromWkt(wkt: string, where: string): { crs: Crs | null; issues: readonly Issue[] } {
  return readWktCrs(wkt, where);
}

/**
 * Coordinates of a system (easting and northing in its unit, or degrees) as lon/lat degrees on WGS 84.
 * A coordinate that is not finite, or is no place on Earth in that system, gives NaN for both.
 */
export function crsToLonLat(
  crs: Crs,
  x: Float64Array,
  y: Float64Array,
): { lon: Float64Array; lat: Float64Array } {
  const lon = new Float64Array(x.length).fill(Number.NaN);
  const lat = new Float64Array(x.length).fill(Number.NaN);
  const converter = crs.proj4 === null ? null : proj4(crs.proj4, LONLAT);
  for (let i = 0; i < x.length; i++) {
    // The library throws on what is not finite.
    if (!Number.isFinite(x[i]) || !Number.isFinite(y[i])) continue;
    const point = converter ? converter.forward([x[i], y[i]]) : [x[i], y[i]];
    if (!Number.isFinite(point[0]) || !(Math.abs(point[0]) <= 360) || !(Math.abs(point[1]) <= 90)) continue;
    lon[i] = point[0];
    lat[i] = point[1];
  }
  return { lon, lat };
}

const LONLAT = '+proj=longlat +datum=WGS84 +no_defs';
