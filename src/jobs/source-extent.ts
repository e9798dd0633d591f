import type { Box } from '../engine/geodesy/box.ts';
import { crsToLonLat, WGS84 } from '../engine/geodesy/crs.ts';
import { regionLocator } from '../engine/geometry/point-in-region.ts';
import { regionFromRings } from '../engine/geometry/region-from-rings.ts';
import type { Ring } from '../engine/geometry/ring.ts';
import type { Raster, Source } from '../engine/layers/source.ts';
import { ringToLonLatOf } from '../run/stages/place-source.ts';

/** The extent of a source in degrees, of all its records or of some (from 1); null for a table, or where the places are not degrees and no system is stated. */
export function extentInDegrees(source: Source, records: readonly number[] | null = null): Box | null {
  if (source.crs === null && !degreesThroughout(source)) return null;
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  const reach = ({ lon, lat }: { lon: Float64Array; lat: Float64Array }) => {
    for (let i = 0; i < lon.length; i++) {
      if (Number.isNaN(lon[i])) continue;
      west = Math.min(west, lon[i]);
      east = Math.max(east, lon[i]);
      south = Math.min(south, lat[i]);
      north = Math.max(north, lat[i]);
    }
  };
  const crs = source.crs ?? WGS84;
  if (source.shape === 'points') reach(crsToLonLat(crs, source.x, source.y));
  for (const ring of ringsOf(source, records)) {
    const { x, y } = columnsOf(ring);
    reach(crsToLonLat(crs, x, y));
  }
  if (source.raster) {
    const [x, y] = rasterCorners(source.raster);
    reach(crsToLonLat(crs, x, y));
  }
  return west <= east ? { west, south, east, north } : null;
}

/** The four corners of a raster in its own coordinates, x and y. */
export function rasterCorners({ width, height, transform }: Raster): [x: Float64Array, y: Float64Array] {
  const [a, b, c, d, e, f] = transform;
  const corners = [
    [0, 0],
    [width, 0],
    [0, height],
    [width, height],
  ];
  return [
    Float64Array.from(corners, ([col, row]) => a * col + b * row + c),
    Float64Array.from(corners, ([col, row]) => d * col + e * row + f),
  ];
}

/** Share of `a`'s box that lies in `b`'s; 1 for a point in it. */
export function overlapShare(a: Box, b: Box): number {
  const side = (from: number, to: number, low: number, high: number) =>
    from === to
      ? Number(from >= low && from <= high)
      : Math.max(0, Math.min(to, high) - Math.max(from, low)) / (to - from);
  return side(a.west, a.east, b.west, b.east) * side(a.south, a.north, b.south, b.north);
}

/** How many of the points lie in each record of a polygon source. */
export function pointsWithin(
  source: Source,
  points: readonly { readonly lon: Float64Array; readonly lat: Float64Array }[],
): number[] {
  const crs = source.crs ?? WGS84;
  return source.rings.map((rings, k) => {
    if (!rings || rings.length === 0) return 0;
    const degrees = rings.map((ring) => ringToLonLatOf(crs, ring));
    const [lon0, lat0] = degrees[0];
    const { region } = regionFromRings(
      degrees.map((ring) => ring.map((value, i) => SCALE * (value - (i % 2 === 0 ? lon0 : lat0)))),
      `${source.file} › record ${k + 1}`,
      { crossing: 'split' },
    );
    const isInside = regionLocator(region);
    let count = 0;
    for (const { lon, lat } of points) {
      for (let i = 0; i < lon.length; i++)
        if (isInside(SCALE * (lon[i] - lon0), SCALE * (lat[i] - lat0))) count++;
    }
    return count;
  });
}

/** Regions are made in metres, near to where they begin: a hundred-thousandth of a degree is about one. */
const SCALE = 1e5;

function ringsOf(source: Source, records: readonly number[] | null): readonly Ring[] {
  const wanted = records ? records.map((record) => source.rings[record - 1]) : source.rings;
  return wanted.flatMap((rings) => rings ?? []);
}

function columnsOf(ring: Ring): { x: Float64Array; y: Float64Array } {
  return { x: ring.filter((_, k) => k % 2 === 0), y: ring.filter((_, k) => k % 2 === 1) };
}

function degreesThroughout(source: Source): boolean {
  if (source.shape === 'table' || source.shape === 'raster') return false;
  const fits = (x: number, y: number) => !(Math.abs(x) > 180) && !(Math.abs(y) > 90);
  for (let i = 0; i < source.x.length; i++) if (!fits(source.x[i], source.y[i])) return false;
  return ringsOf(source, null).every((ring) => {
    for (let i = 0; i < ring.length; i += 2) if (!fits(ring[i], ring[i + 1])) return false;
    return true;
  });
}
