import { type Crs, crsToLonLat, WGS84 } from '../../engine/geodesy/crs.ts';
import type { Ring } from '../../engine/geometry/ring.ts';
import { type Issue, Refusal } from '../../engine/issue.ts';
import type { Source } from '../../engine/layers/source.ts';

/** The coordinate system to read a source in: its own, or WGS 84 with a warning when the figures can only be degrees. */
export function sourceCrs(source: Source, issues: Issue[]): Crs {
  if (source.crs) return source.crs;
  if (!looksLikeDegrees(source)) {
    throw new Refusal({
      code: 'crs-missing',
      where: source.file,
      found: 'coordinates that are not degrees, and no word of their coordinate system',
      expected: 'a .prj, or an EPSG code in the plan',
      effect: 'The layer has no place on the ground',
      remedy: 'Name the coordinate system (command line: --crs FILE=EPSG:32612)',
    });
  }
  issues.push({
    code: 'crs-assumed',
    severity: 'warning',
    where: source.file,
    found: 'no coordinate system stated',
    expected: 'a .prj or its like',
    effect: 'The figures are taken as longitude and latitude on WGS 84',
    remedy: 'Check that the layer lies where it should',
  });
  return WGS84;
}

/** Every coordinate could be a longitude and a latitude; of a raster its four corners. */
function looksLikeDegrees({ shape, x, y, rings, raster }: Source): boolean {
  if (shape === 'points') return inDegrees(x, y);
  if (!raster) return rings.every((own) => own === null || own.every(ringInDegrees));
  const [a, b, c, d, e, f] = raster.transform;
  const corners = [0, raster.width].flatMap((column) =>
    [0, raster.height].flatMap((row) => [a * column + b * row + c, d * column + e * row + f]),
  );
  return corners.every(Number.isFinite) && ringInDegrees(Float64Array.from(corners));
}

function inDegrees(x: Float64Array, y: Float64Array): boolean {
  for (let i = 0; i < x.length; i++) if (Math.abs(x[i]) > 180 || Math.abs(y[i]) > 90) return false;
  return true;
}

function ringInDegrees(ring: Ring): boolean {
  for (let i = 0; i < ring.length; i += 2)
    if (Math.abs(ring[i]) > 180 || Math.abs(ring[i + 1]) > 90) return false;
  return true;
}

/** A ring of a source as lon/lat degrees. */
export function ringToLonLatOf(crs: Crs, ring: Ring): Ring {
  const n = ring.length / 2;
  const x = Float64Array.from({ length: n }, (_, i) => ring[2 * i]);
  const y = Float64Array.from({ length: n }, (_, i) => ring[2 * i + 1]);
  const { lon, lat } = crsToLonLat(crs, x, y);
  const out = new Float64Array(ring.length);
  for (let i = 0; i < n; i++) {
    out[2 * i] = lon[i];
    out[2 * i + 1] = lat[i];
  }
  return out;
}

/** Every vertex of a polygon source, in degrees. */
export function cornersOf(source: Source, crs: Crs): { lon: Float64Array; lat: Float64Array } {
  const corners = source.rings.flatMap((rings) => rings ?? []).flatMap((ring) => [...ring]);
  const x = Float64Array.from({ length: corners.length / 2 }, (_, k) => corners[2 * k]);
  const y = Float64Array.from({ length: corners.length / 2 }, (_, k) => corners[2 * k + 1]);
  return crsToLonLat(crs, x, y);
}
