import proj4 from 'proj4';
import type { Issue } from '../issue.ts';
import { holds, type Place } from './box.ts';
import { NAD27_DATUM } from './datum.ts';
import { geographicDatum, isNad27Code, listedSystems, nad27System } from './epsg.ts';
import type { ListedSystem } from './listed-system.ts';
import { nad27Accepted, nad27Refused } from './nad27.ts';
import { proj4Text } from './projection.ts';
import { type CrsChoices, degreesOn, readWktCrs } from './wkt-crs.ts';

export type { CrsChoices } from './wkt-crs.ts';

/** A coordinate system we have verified. `proj4` is null when coordinates already are WGS 84 lon/lat degrees. */
export interface Crs {
  /** `EPSG:32612`, or `custom` for one known only by its parameters. */
  readonly code: string;
  /** Tells feet, and which, where coordinates are in feet. */
  readonly name: string;
  readonly proj4: string | null;
}

/** Longitude and latitude in degrees on WGS 84, in this order. */
export const WGS84: Crs = { code: 'EPSG:4326', name: 'WGS 84', proj4: null };

/** The system of an EPSG code, or null when it is not among those we have verified; NAD27 is not. Easting first, whatever the registry's axes. */
export function crsFromEpsg(code: number): Crs | null {
  const datum = geographicDatum(code);
  if (datum) return { code: `EPSG:${code}`, name: datum.id, proj4: null };
  const system = listedSystems().get(code);
  return system ? crsOfListed(system) : null;
}

/** A listed system as a `Crs`. */
export function crsOfListed({ code, name, datum, projection }: ListedSystem): Crs {
  return { code: `EPSG:${code}`, name, proj4: proj4Text(projection, datum) };
}

/**
 * The system of an EPSG code a file or a user states. `crs` is null with an error among `issues`: `crs-nad27` for NAD27 unless accepted
 * (then the warning `crs-nad27-mean-shift`), `crs-not-supported` for what is not among those we have verified. `where` names the file in them.
 */
export function statedCrs(
  code: number,
  where: string,
  choices: CrsChoices = {},
): { crs: Crs | null; issues: readonly Issue[] } {
  const crs = crsFromEpsg(code);
  if (crs) return { crs, issues: [] };
  if (isNad27Code(code)) {
    const accepted = choices.acceptNad27 ? nad27System(code) : null;
    if (accepted === null) return { crs: null, issues: [nad27Refused(where, `EPSG:${code}`)] };
    const placed = accepted === 'degrees' ? degreesOn(NAD27_DATUM, 'NAD27') : crsOfListed(accepted);
    return { crs: placed, issues: [nad27Accepted(where, `EPSG:${code}`)] };
  }
  const issue: Issue = {
    code: 'crs-not-supported',
    severity: 'error',
    where,
    found: `EPSG:${code}`,
    expected: 'a coordinate system verified here',
    effect: 'The layer has no place on the ground and is not used',
    remedy: 'Save the layer again as WGS 84 longitude and latitude (EPSG:4326)',
  };
  return { crs: null, issues: [issue] };
}

/**
 * The system described by well-known text (WKT 1 of either dialect, WKT 2), recognised by its parameters and not by
 * its name. `crs` is null with an error among `issues` (`crs-unreadable`, `crs-datum-not-supported`, `crs-nad27`,
 * `crs-projection-not-supported`); notes tell what was assumed. `where` names the file in them.
 */
export function crsFromWkt(
  wkt: string,
  where: string,
  choices: CrsChoices = {},
): { crs: Crs | null; issues: readonly Issue[] } {
  return readWktCrs(wkt, where, choices);
}

/** Degrees beyond its area of use that a listed system is still carried: UTM into the next zone for a field across the edge. */
const CARRIED_DEG = 3;

/** Whether a place is none at all, or lies far outside the area a listed system is meant for: a sign of a wrong zone or unit. */
export function isFarOutside(crs: Crs, place: Place): boolean {
  if (!Number.isFinite(place.lon) || !Number.isFinite(place.lat)) return true;
  const system = listedSystems().get(Number(crs.code.slice(5)));
  return system !== undefined && !holds(system.area, place, CARRIED_DEG);
}

/**
 * Coordinates of a system (easting and northing in its unit, or degrees) as lon/lat degrees on WGS 84.
 * A coordinate that is not finite, or is no place on Earth in that system, gives NaN for both. Degrees that all are places are given back themselves.
 */
export function crsToLonLat(
  crs: Crs,
  x: Float64Array,
  y: Float64Array,
): { lon: Float64Array; lat: Float64Array } {
  if (crs.proj4 === null && areDegrees(x, y)) return { lon: x, lat: y };
  const lon = new Float64Array(x.length).fill(Number.NaN);
  const lat = new Float64Array(x.length).fill(Number.NaN);
  const converter = crs.proj4 === null ? null : proj4(crs.proj4, LONLAT);
  for (let i = 0; i < x.length; i++) {
    // The library throws on what is not finite.
    if (!Number.isFinite(x[i]) || !Number.isFinite(y[i])) continue;
    if (converter === null) place(i, x[i], y[i]);
    else {
      const [east, north] = converter.forward([x[i], y[i]]);
      place(i, east, north);
    }
  }
  return { lon, lat };

  function place(i: number, east: number, north: number): void {
    if (!isPlace(east, north)) return;
    lon[i] = east;
    lat[i] = north;
  }
}

function areDegrees(x: Float64Array, y: Float64Array): boolean {
  for (let i = 0; i < x.length; i++) if (!isPlace(x[i], y[i])) return false;
  return true;
}

function isPlace(east: number, north: number): boolean {
  return Math.abs(east) <= 360 && Math.abs(north) <= 90;
}

const LONLAT = '+proj=longlat +datum=WGS84 +no_defs';
