import type { Box } from '../engine/geodesy/box.ts';
import { candidateSystems } from '../engine/geodesy/candidate-systems.ts';
import { type Crs, crsToLonLat, isFarOutside } from '../engine/geodesy/crs.ts';
import { looksSwapped } from '../engine/geodesy/looks-swapped.ts';
import type { Ring } from '../engine/geometry/ring.ts';
import type { Issue } from '../engine/issue.ts';
import type { ReadOptions } from './format.ts';

/** Coordinates to look at: paired arrays, or rings. */
export type Places = readonly (Ring | { readonly x: Float64Array; readonly y: Float64Array })[];

/** A system, null when none can be told, and what is to be said of it. */
export interface SettledCrs {
  readonly crs: Crs | null;
  readonly issues: readonly Issue[];
}

/** West, east, south and north of all finite coordinates, null when there are none. */
export function extentOf(places: Places): Box | null {
  return extentWith(places, true);
}

/** The same without places at 0, 0, which is how a receiver writes that it knows none; unless all are there. */
export function groundExtentOf(places: Places): Box | null {
  return extentWith(places, false) ?? extentWith(places, true);
}

function extentWith(places: Places, zeros: boolean): Box | null {
  let [west, east, south, north] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const place of places) {
    const flat = place instanceof Float64Array;
    const [xs, ys, step] = flat ? [place, place.subarray(1), 2] : [place.x, place.y, 1];
    for (let k = 0; k < xs.length; k += step) {
      const [x, y] = [xs[k], ys[k]];
      if (x === 0 && y === 0 && !zeros) continue;
      if (x < west) west = x;
      if (x > east) east = x;
      if (y < south) south = y;
      if (y > north) north = y;
    }
  }
  return west <= east && south <= north ? { west, east, south, north } : null;
}

export function looksLikeDegrees(extent: Box | null): boolean {
  return (
    extent !== null && extent.west >= -180 && extent.east <= 180 && extent.south >= -90 && extent.north <= 90
  );
}

/**
 * The system of a layer: the one its file states (`stated`, null when it states none: `silence` says how) where the numbers bear it out, else the one
 * given. An error about what is stated is a warning once a system is given that the numbers bear out.
 */
export function settleCrs(
  stated: SettledCrs | null,
  where: string,
  silence: string,
  places: Places,
  options: ReadOptions,
): SettledCrs {
  const own = stated?.crs ? checkCrs(stated.crs, where, places) : null;
  const said = [...(stated?.issues ?? []), ...(own?.issues ?? [])];
  if (own?.crs) return { crs: own.crs, issues: said };
  if (!options.crs) return { crs: null, issues: stated ? said : [missingCrs(where, silence, places)] };
  const given = checkCrs(options.crs, where, places);
  const effect = `${options.crs.name}, which was given, is used in its stead`;
  const overruled = said.map((issue) => ({ ...issue, severity: 'warning' as const, effect }));
  return { crs: given.crs, issues: [...(given.crs ? overruled : said), ...given.issues] };
}

/** The warning for coordinates in no stated system, with those they could be in. The caller decides; nothing is assumed. */
export function missingCrs(where: string, found: string, places: Places): Issue {
  const extent = groundExtentOf(places);
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
    remedy: `Give the coordinate system${candidatesText(extent)}, or export in WGS 84 degrees`,
  };
}

/**
 * A stated system against the numbers. `crs` is null with an error where they contradict it: degrees beyond the globe, or numbers that look
 * like degrees in a system of metres or feet (`crs-contradicts-coordinates`), and degrees with longitude and latitude exchanged (`lon-lat-swapped`).
 * A place far outside the area of a listed system is warned of (`crs-outside-area`).
 */
export function checkCrs(crs: Crs, where: string, places: Places): SettledCrs {
  const extent = groundExtentOf(places);
  if (extent === null) return { crs, issues: [] };
  const degrees = inDegrees(crs);
  const swapped = degrees ? swappedIssue(where, extent) : null;
  if (swapped) return { crs: null, issues: [swapped] };
  if (degrees !== looksLikeDegrees(extent)) return { crs: null, issues: [contradiction(crs, where, extent)] };
  const outside = degrees ? null : outsideArea(crs, where, extent);
  return { crs, issues: outside ? [outside] : [] };
}

/** Whether a system counts in degrees of longitude and latitude. */
export function inDegrees(crs: Crs): boolean {
  return crs.proj4 === null || crs.proj4.includes('+proj=longlat');
}

/** The error for degrees whose longitudes and latitudes have changed places, or null. */
export function swappedIssue(where: string, extent: Box): Issue | null {
  if (!looksSwapped(extent)) return null;
  return {
    code: 'lon-lat-swapped',
    severity: 'error',
    where,
    found: `longitudes ${round(extent.west)} to ${round(extent.east)}, latitudes ${round(extent.south)} to ${round(extent.north)}: where no field is, unless they are exchanged`,
    expected: 'the longitude first and then the latitude',
    effect: 'The layer has no place on the ground',
    remedy:
      'Export it with longitude and latitude in their places, or have them exchanged in reading (command line: --swap-lon-lat FILE)',
  };
}

/** `: EPSG:32615 (…) would put it at latitude 42.0000, …`: the first few systems that numbers could be in, '' when there is none. */
export function candidatesText(extent: Box | null): string {
  const candidates = extent === null ? [] : candidateSystems(extent).slice(0, 3);
  if (candidates.length === 0) return '';
  const each = candidates.map(
    ({ crs, lon, lat }) =>
      `${crs.code} (${crs.name}) would put it at latitude ${lat.toFixed(4)}, longitude ${lon.toFixed(4)}`,
  );
  return `: ${each.join('; ')}`;
}

function contradiction(crs: Crs, where: string, extent: Box): Issue {
  const degrees = inDegrees(crs);
  return {
    code: 'crs-contradicts-coordinates',
    severity: 'error',
    where,
    found: `${crs.name}, but coordinates ${extentText(extent)}${degrees ? '' : ', which look like degrees'}`,
    expected: degrees
      ? 'longitudes within 180 and latitudes within 90 degrees'
      : `coordinates of ${crs.name}`,
    effect: 'The stated system is not used, and the layer has no place until one is given',
    remedy: `Give the right coordinate system${candidatesText(extent)}, or export in WGS 84 degrees`,
  };
}

function outsideArea(crs: Crs, where: string, extent: Box): Issue | null {
  const x = Float64Array.of((extent.west + extent.east) / 2);
  const y = Float64Array.of((extent.south + extent.north) / 2);
  const { lon, lat } = crsToLonLat(crs, x, y);
  if (!isFarOutside(crs, { lon: lon[0], lat: lat[0] })) return null;
  const place = Number.isNaN(lon[0])
    ? 'at no place'
    : `at latitude ${lat[0].toFixed(3)}, longitude ${lon[0].toFixed(3)}`;
  return {
    code: 'crs-outside-area',
    severity: 'warning',
    where,
    found: `${crs.name} puts its middle ${place}, far outside the ground that system is for`,
    expected: 'a place within it',
    effect: 'The layer will lie there',
    remedy: 'Check the zone and the unit of the coordinate system',
  };
}

function extentText(extent: Box | null): string {
  if (extent === null) return 'none';
  const { west, east, south, north } = extent;
  return `${round(west)} to ${round(east)}, ${round(south)} to ${round(north)}`;
}

function round(value: number): string {
  return Math.abs(value) < 1000 ? String(Number(value.toFixed(5))) : value.toFixed(0);
}
