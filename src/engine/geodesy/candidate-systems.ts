import { type Box, greatCircle_km, holds, middleOf, type Place } from './box.ts';
import { type Crs, crsOfListed, crsToLonLat, WGS84 } from './crs.ts';
import type { Datum } from './datum.ts';
import { listedSystems } from './epsg.ts';
import type { ListedSystem } from './listed-system.ts';

/** A system that numbers could be in, where it puts their middle, and how far that is from where it was looked for. */
export interface CandidateSystem extends Place {
  readonly crs: Crs;
  readonly distance_km: number;
}

/** Where to look first without a hint: the middle of the corn belt. */
const HOME: Place = { lon: -93.5, lat: 42 };
/** The Americas and Europe, roughly: where to look at all without a hint. */
const LANDS: readonly Box[] = [
  { west: -170, south: 54, east: -130, north: 72 },
  { west: -141, south: 48, east: -52, north: 70 },
  { west: -125, south: 24, east: -66, north: 50 },
  { west: -118, south: 7, east: -59, north: 33 },
  { west: -82, south: -56, east: -34, north: 13 },
  { west: -11, south: 35, east: 41, north: 71 },
];
/** With a hint, nothing farther from it than this. */
const NEAR_KM = 1000;
/** Systems of the same place on another realization are left out, and UTM is named on WGS 84 alone: their numbers cannot be told apart. */
const LEFT_OUT: readonly Datum['id'][] = ['NAD83(HARN)', 'NAD83(NSRS2007)', 'NAD83(2011)', 'NAD83(CSRS)'];
/** How far beyond its area of use a system may still be met, degrees: UTM is carried over the edge of a zone for a field across it. */
const MARGIN = 0.5;

/**
 * The verified systems in which numbers of an unknown one land on land, nearest first to `near` (another layer of the same job) or, without
 * one, to the middle of the corn belt. The middle and two corners must lie in the system's area of use. Numbers that can only be degrees have WGS 84 alone.
 */
export function candidateSystems(extent: Box, near: Place | null = null): CandidateSystem[] {
  const { west, south, east, north } = extent;
  const numbers = [west, south, east, north];
  if (!numbers.every(Number.isFinite)) return [];
  const hint = near ?? HOME;
  if (Math.abs(west) <= 180 && Math.abs(east) <= 180 && Math.abs(south) <= 90 && Math.abs(north) <= 90) {
    const place = middleOf(extent);
    return [{ crs: WGS84, ...place, distance_km: greatCircle_km(place, hint) }];
  }
  const found: CandidateSystem[] = [];
  const x = Float64Array.of((west + east) / 2, west, east);
  const y = Float64Array.of((south + north) / 2, south, north);
  for (const system of listedSystems().values()) {
    if (isTwin(system)) continue;
    const crs = crsOfListed(system);
    const { lon, lat } = crsToLonLat(crs, x, y);
    const inside = Array.from(lon, (own, i) => holds(system.area, { lon: own, lat: lat[i] }, MARGIN));
    const place = { lon: lon[0], lat: lat[0] };
    const distance_km = greatCircle_km(place, hint);
    const wanted = near ? distance_km <= NEAR_KM : LANDS.some((land) => holds(land, place));
    if (inside.every(Boolean) && wanted) found.push({ crs, ...place, distance_km });
  }
  return found.sort((a, b) => a.distance_km - b.distance_km || codeOf(a) - codeOf(b));
}

function isTwin({ datum, name }: ListedSystem): boolean {
  return LEFT_OUT.includes(datum.id) || (datum.id !== 'WGS 84' && name.includes(' / UTM zone'));
}

function codeOf({ crs }: CandidateSystem): number {
  return Number(crs.code.slice(5));
}
