import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  fieldFrame,
  ringToFrame,
  ringToLonLat,
  toFrame,
  toLonLat,
  wrapLongitude,
} from '../../../src/engine/geodesy/field-frame.ts';
import { frameAround } from '../../../src/engine/geodesy/frame-around.ts';
import { Refusal } from '../../../src/engine/issue.ts';
import { random } from '../../../src/engine/math/random.ts';

const RADIANS = Math.PI / 180;

/** Snyder (1987), eqs. 3-11, 3-12 and 24-17 to 24-20, WGS 84. */
function asPrinted(lon0: number, lat0: number, lon: number, lat: number): [east: number, north: number] {
  const [a, e2] = [6378137, 0.00669437999014132];
  const e = Math.sqrt(e2);
  const q = (sin: number) =>
    (1 - e2) * (sin / (1 - e2 * sin * sin) - Math.log((1 - e * sin) / (1 + e * sin)) / (2 * e));
  const beta = (degrees: number) => Math.asin(q(Math.sin(degrees * RADIANS)) / q(1));
  const [b, b1, turn] = [beta(lat), beta(lat0), (lon - lon0) * RADIANS];
  const m1 = Math.cos(lat0 * RADIANS) / Math.sqrt(1 - e2 * Math.sin(lat0 * RADIANS) ** 2);
  const radius = a * Math.sqrt(q(1) / 2);
  const d = (a * m1) / (radius * Math.cos(b1));
  const cos = Math.sin(b1) * Math.sin(b) + Math.cos(b1) * Math.cos(b) * Math.cos(turn);
  const scale = radius * Math.sqrt(2 / (1 + cos));
  const north = Math.cos(b1) * Math.sin(b) - Math.sin(b1) * Math.cos(b) * Math.cos(turn);
  return [scale * d * Math.cos(b) * Math.sin(turn), (scale / d) * north];
}

describe('the field frame', () => {
  it('puts its centre at 0, 0 and counts metres east and north', () => {
    const frame = fieldFrame(-93, 42);
    const { x, y } = toFrame(frame, Float64Array.of(-93, -92.99, -93), Float64Array.of(42, 42, 42.01));
    expect([x[0], y[0]]).toEqual([0, 0]);
    expect(x[1]).toBeGreaterThan(800);
    expect(Math.abs(y[1])).toBeLessThan(0.1);
    expect(x[2]).toBe(0);
    expect(y[2]).toBeGreaterThan(1100);
  });

  // PROJ 9.1.1: echo LON LAT | proj -f %.6f +proj=laea +lat_0=… +lon_0=… +ellps=WGS84. The first is the worked example
  // of Snyder (1987), p. 334, on our ellipsoid instead of Clarke's.
  it.each([
    [-100, 40, -110, 30, -965914.616239, -1056842.300193],
    [-93.5, 42, -93.49, 42.01, 828.378047, 1110.781892],
    [146, -41, 146.03, -41.02, 2523.29338, -2221.513359],
    [25, 69.5, 25.5, 69.9, 19184.720146, 44701.472014],
  ])('about %s, %s puts %s, %s where PROJ does', (lon0, lat0, lon, lat, east, north) => {
    const { x, y } = toFrame(fieldFrame(lon0, lat0), Float64Array.of(lon), Float64Array.of(lat));
    expect(Math.abs(x[0] - east)).toBeLessThan(1e-6);
    expect(Math.abs(y[0] - north)).toBeLessThan(1e-6);
  });

  it.each([0, 25, -42, 60, -75, 88])('about latitude %d is the projection as printed, over 30 km', (lat0) => {
    const { normal } = random(lat0 + 100);
    const lat = Float64Array.from({ length: 500 }, () => lat0 + 0.1 * normal());
    const lon = Float64Array.from({ length: 500 }, () => -93 + (0.1 / Math.cos(lat0 * RADIANS)) * normal());
    const { x, y } = toFrame(fieldFrame(-93, lat0), lon, lat);
    // An angle in double precision is some 1e-9 m on the ground; a sine near a pole tells it by a 1 / cos φ more loosely.
    const off_m = 1e-8 / Math.cos(lat0 * RADIANS);
    for (let i = 0; i < lat.length; i++) {
      const [east, north] = asPrinted(-93, lat0, lon[i], lat[i]);
      expect(Math.abs(x[i] - east)).toBeLessThan(off_m);
      expect(Math.abs(y[i] - north)).toBeLessThan(off_m);
    }
  });

  it('comes back to 1e-6 m within 100 km of any centre', () => {
    const within = fc.double({ min: -70000, max: 70000, noNaN: true });
    const centre = fc.record({
      lon0: fc.double({ min: -180, max: 180, noNaN: true }),
      lat0: fc.double({ min: -88, max: 88, noNaN: true }),
    });
    fc.assert(
      fc.property(centre, within, within, ({ lon0, lat0 }, east, north) => {
        const frame = fieldFrame(lon0, lat0);
        const { lon, lat } = toLonLat(frame, Float64Array.of(east), Float64Array.of(north));
        const back = toFrame(frame, lon, lat);
        return Math.hypot(back.x[0] - east, back.y[0] - north) < 1e-6;
      }),
      { seed: 4, numRuns: 500 },
    );
  });

  it('treats rings as it treats points', () => {
    const frame = fieldFrame(5, 52);
    const ring = Float64Array.of(5, 52, 5.01, 52, 5.01, 52.01);
    const metres = ringToFrame(frame, ring);
    const { x, y } = toFrame(frame, Float64Array.of(5, 5.01, 5.01), Float64Array.of(52, 52, 52.01));
    expect([...metres]).toEqual([x[0], y[0], x[1], y[1], x[2], y[2]]);
    ringToLonLat(frame, metres).forEach((value, i) => {
      expect(Math.abs(value - ring[i])).toBeLessThan(1e-12);
    });
  });

  it('makes NaN of what is no place', () => {
    const { x, y } = toFrame(
      fieldFrame(0, 0),
      Float64Array.of(Number.NaN, 0, 0),
      Float64Array.of(0, 91, Number.NaN),
    );
    expect([...x, ...y].every(Number.isNaN)).toBe(true);
  });

  it.each([
    [Number.NaN, 42],
    [-93, Number.NaN],
    [42, -93.5],
    [0, 90],
  ])('refuses a centre at %s, %s', (lon, lat) => {
    expect(() => fieldFrame(lon, lat)).toThrow(Refusal);
  });
});

describe('around the antimeridian', () => {
  it('writes a meridian near another', () => {
    expect(wrapLongitude(-179.5, 179.5)).toBe(180.5);
    expect(wrapLongitude(541, 0)).toBe(-179);
    expect(wrapLongitude(-93, -93.5)).toBe(-93);
  });

  it('centres between the two sides', () => {
    const east = Float64Array.of(179.99, -17, 180, -17, 180, -16.98);
    const west = Float64Array.of(-180, -17, -179.99, -17, -180, -16.98);
    const frame = frameAround([east, west]);
    expect(Math.abs(frame.lon0)).toBeCloseTo(180, 9);
    expect(frame.lat0).toBeCloseTo(-16.99, 9);
    const [a, b] = [ringToFrame(frame, east), ringToFrame(frame, west)];
    expect(Math.hypot(a[2] - b[0], a[3] - b[1])).toBeLessThan(1e-6);
  });

  it('passes over vertices that are no numbers, and refuses when there are no others', () => {
    expect(frameAround([Float64Array.of(Number.NaN, 1, 10, 50, 12, 52)])).toEqual({ lon0: 11, lat0: 51 });
    expect(() => frameAround([])).toThrow(Refusal);
  });
});
