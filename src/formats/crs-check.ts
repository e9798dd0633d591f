import type { Crs } from '../engine/geodesy/crs.ts';
import type { Ring } from '../engine/geometry/ring.ts';
import type { Issue } from '../engine/issue.ts';

/** Coordinates to look at: paired arrays, or rings. */
export type Places = readonly (Ring | { readonly x: Float64Array; readonly y: Float64Array })[];

interface Extent {
  readonly west: number;
  readonly east: number;
  readonly south: number;
  readonly north: number;
}

/** West, east, south and north of all finite coordinates, null when there are none. */
export function extentOf(places: Places): Extent | null {
  let [west, east, south, north] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const place of places) {
    const flat = place instanceof Float64Array;
    const n = flat ? place.length / 2 : place.x.length;
    for (let i = 0; i < n; i++) {
      const x = flat ? place[2 * i] : place.x[i];
      const y = flat ? place[2 * i + 1] : place.y[i];
      if (x < west) west = x;
      if (x > east) east = x;
      if (y < south) south = y;
      if (y > north) north = y;
    }
  }
  return west <= east && south <= north ? { west, east, south, north } : null;
}

export function looksLikeDegrees(extent: Extent | null): boolean {
  return (
    extent !== null && extent.west >= -180 && extent.east <= 180 && extent.south >= -90 && extent.north <= 90
  );
}

/** The warning for coordinates in no stated system. The caller decides; nothing is assumed. */
export function missingCrs(where: string, found: string, places: Places): Issue {
  const extent = extentOf(places);
  const guess = looksLikeDegrees(extent)
    ? 'they could be degrees of longitude and latitude'
    : 'they are not degrees';
  return {
    code: 'crs-missing',
    severity: 'warning',
    where,
    found: `${found}; coordinates ${extentText(extent)}: ${guess}`,
    expected: 'a stated coordinate system',
    effect: 'The layer has no place on Earth until its coordinate system is given',
    remedy: 'Give the coordinate system, or export in WGS 84 degrees',
  };
}

/**
 * A stated system against the numbers: degrees that are far outside the globe are refused (`crs` null, error);
 * a projected system over numbers that all look like degrees is only warned about.
 */
export function checkCrs(crs: Crs, where: string, places: Places): { crs: Crs | null; issues: Issue[] } {
  const extent = extentOf(places);
  if (extent === null) return { crs, issues: [] };
  const degrees = crs.proj4 === null || crs.proj4.includes('+proj=longlat');
  if (degrees === looksLikeDegrees(extent)) return { crs, issues: [] };
  const issue: Issue = {
    code: 'crs-contradicts-coordinates',
    severity: degrees ? 'error' : 'warning',
    where,
    found: `${crs.name}, but coordinates ${extentText(extent)}`,
    expected: degrees
      ? 'longitudes within 180 and latitudes within 90 degrees'
      : `coordinates of ${crs.name}`,
    effect: degrees
      ? 'The stated system is not used'
      : 'The layer will lie where these numbers are in that system',
    remedy: 'Give the right coordinate system, or export in WGS 84 degrees',
  };
  return { crs: degrees ? null : crs, issues: [issue] };
}

function extentText(extent: Extent | null): string {
  if (extent === null) return 'none';
  const { west, east, south, north } = extent;
  return `${round(west)} to ${round(east)}, ${round(south)} to ${round(north)}`;
}

function round(value: number): string {
  return Math.abs(value) < 1000 ? String(Number(value.toFixed(5))) : value.toFixed(0);
}
