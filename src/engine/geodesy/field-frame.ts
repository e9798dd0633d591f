import { Refusal } from '../issue.ts';
import { authalicQ, sinGeodeticFromQ, WGS84_E2, WGS84_Q_POLE } from './authalic.ts';
import { WGS84_A_M } from './ellipsoid.ts';

/** Centre of the field's own plane, degrees on WGS 84. Metres of the plane count east (x) and north (y) from it. */
export interface FieldFrame {
  readonly lon0: number;
  readonly lat0: number;
}

const RADIANS = Math.PI / 180;
/** The projection divides by the cosine of the centre's latitude; nobody plants within a degree of a pole. */
const MAX_CENTRE_LATITUDE = 89;

/** A frame centred at `lon0`, `lat0` degrees. Refuses a centre that is not a number or lies beyond ±89° latitude. */
export function fieldFrame(lon0: number, lat0: number): FieldFrame {
  if (!Number.isFinite(lon0) || !(Math.abs(lat0) <= MAX_CENTRE_LATITUDE)) {
    throw new Refusal({
      code: 'frame-centre-out-of-range',
      where: 'field frame',
      found: `centre at longitude ${lon0}, latitude ${lat0}`,
      expected: `a finite longitude and a latitude between -${MAX_CENTRE_LATITUDE} and ${MAX_CENTRE_LATITUDE} degrees`,
      effect: 'The field has no plane to be measured in',
      remedy: 'Check the coordinate system of the boundary, and that longitude and latitude are not swapped',
    });
  }
  return { lon0: wrapLongitude(lon0, 0), lat0 };
}

/** The same meridian as `lon`, written within 180° of `near`: a field across the antimeridian stays in one piece. */
export function wrapLongitude(lon: number, near: number): number {
  return lon - 360 * Math.round((lon - near) / 360);
}

/**
 * Project lon/lat degrees on WGS 84 into the frame: Lambert azimuthal equal-area on the ellipsoid.
 * Arrays of equal length in, metres out; a coordinate that is not finite, or beyond a pole, gives NaN.
 * Source: Snyder, Map Projections: A Working Manual, USGS PP 1395 (1987), eqs. 24-17 to 24-20, with the
 * difference in `y` written as sin(β−β1) + 2 sinβ1 cosβ sin²(Δλ/2) so that a small field loses no digits. The authalic latitude β
 * enters by its sine and cosine alone.
 */
export function toFrame(
  frame: FieldFrame,
  lon: Float64Array,
  lat: Float64Array,
): { x: Float64Array; y: Float64Array } {
  const x = new Float64Array(lon.length);
  const y = new Float64Array(lon.length);
  const project = forward(frame);
  for (let i = 0; i < lon.length; i++) project(lon[i], lat[i], x, i, y, i);
  return { x, y };
}

/**
 * The inverse of `toFrame`: metres in, degrees out, good to 1e-6 m within 100 km of the centre.
 * Longitudes stay within 180° of the frame's centre, so they may pass ±180 for a field across the antimeridian.
 * Source: Snyder (1987), eqs. 24-21 to 24-25 without their division by ρ; latitude by Newton on the authalic integral.
 */
export function toLonLat(
  frame: FieldFrame,
  x: Float64Array,
  y: Float64Array,
): { lon: Float64Array; lat: Float64Array } {
  const lon = new Float64Array(x.length);
  const lat = new Float64Array(x.length);
  const unproject = inverse(frame);
  for (let i = 0; i < x.length; i++) unproject(x[i], y[i], lon, i, lat, i);
  return { lon, lat };
}

/** A ring of lon/lat degrees, flat (lon, lat, …), as a ring of frame metres. */
export function ringToFrame(frame: FieldFrame, ring: Float64Array): Float64Array {
  const out = new Float64Array(ring.length);
  const project = forward(frame);
  for (let i = 0; i + 1 < ring.length; i += 2) project(ring[i], ring[i + 1], out, i, out, i + 1);
  return out;
}

/** A ring of frame metres as a ring of lon/lat degrees; longitudes as in `toLonLat`. */
export function ringToLonLat(frame: FieldFrame, ring: Float64Array): Float64Array {
  const out = new Float64Array(ring.length);
  const unproject = inverse(frame);
  for (let i = 0; i + 1 < ring.length; i += 2) unproject(ring[i], ring[i + 1], out, i, out, i + 1);
  return out;
}

/** Two coordinates in; two numbers written at `out[i]` and `out2[j]`, so that a million points allocate nothing. */
type Transform = (a: number, b: number, out: Float64Array, i: number, out2: Float64Array, j: number) => void;

/** What both directions need of the centre: authalic sphere, the latitude on it, and Snyder's stretch D (24-20). */
function centre(frame: FieldFrame) {
  const phi1 = frame.lat0 * RADIANS;
  const sinPhi1 = Math.sin(phi1);
  const sinBeta1 = authalicQ(sinPhi1) / WGS84_Q_POLE;
  const cosBeta1 = Math.sqrt((1 - sinBeta1) * (1 + sinBeta1));
  const radius = WGS84_A_M * Math.sqrt(WGS84_Q_POLE / 2);
  const m1 = Math.cos(phi1) / Math.sqrt(1 - WGS84_E2 * sinPhi1 * sinPhi1);
  return { sinBeta1, cosBeta1, radius, d: (WGS84_A_M * m1) / (radius * cosBeta1) };
}

function forward(frame: FieldFrame): Transform {
  const { sinBeta1, cosBeta1, radius, d } = centre(frame);
  return (lon, lat, outX, i, outY, j) => {
    if (!(Math.abs(lat) <= 90)) {
      outX[i] = outY[j] = Number.NaN;
      return;
    }
    const sinBeta = authalicQ(Math.sin(lat * RADIANS)) / WGS84_Q_POLE;
    const cosBeta = Math.sqrt(Math.max(0, (1 - sinBeta) * (1 + sinBeta)));
    // sin(β − β1) without the difference of two products that are nearly equal.
    const slope = cosBeta1 + (sinBeta1 * (sinBeta + sinBeta1)) / (cosBeta + cosBeta1);
    const halfLambda = ((lon - frame.lon0) * RADIANS) / 2;
    const sinHalf = Math.sin(halfLambda);
    const fold = 2 * cosBeta * sinHalf * sinHalf;
    const cosDistance = cosBeta * cosBeta1 + sinBeta * sinBeta1 - cosBeta1 * fold;
    const b = radius * Math.sqrt(2 / (1 + cosDistance));
    outX[i] = b * d * cosBeta * 2 * sinHalf * Math.cos(halfLambda);
    outY[j] = (b / d) * ((sinBeta - sinBeta1) * slope + sinBeta1 * fold);
  };
}

function inverse(frame: FieldFrame): Transform {
  const { sinBeta1, cosBeta1, radius, d } = centre(frame);
  return (x, y, outLon, i, outLat, j) => {
    const u = x / (d * radius);
    const v = (y * d) / radius;
    const rho2 = u * u + v * v;
    const k = Math.sqrt(1 - rho2 / 4);
    const cosDistance = 1 - rho2 / 2;
    const sinBeta = cosDistance * sinBeta1 + v * k * cosBeta1;
    const deltaLambda = Math.atan2(u * k, cosDistance * cosBeta1 - v * k * sinBeta1);
    outLon[i] = frame.lon0 + deltaLambda / RADIANS;
    outLat[j] = Math.asin(sinGeodeticFromQ(sinBeta * WGS84_Q_POLE)) / RADIANS;
  };
}
