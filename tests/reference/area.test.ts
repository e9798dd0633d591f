import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import geodesic from 'geographiclib-geodesic';
import { describe, expect, it } from 'vitest';
import {
  type FieldFrame,
  fieldFrame,
  ringToFrame,
  ringToLonLat,
} from '../../src/engine/geodesy/field-frame.ts';
import { frameAround } from '../../src/engine/geodesy/frame-around.ts';
import { regionArea, ringArea } from '../../src/engine/geometry/area.ts';
import { regionFromRings } from '../../src/engine/geometry/region-from-rings.ts';
import type { Ring } from '../../src/engine/geometry/ring.ts';
import { random as seeded } from '../../src/engine/math/random.ts';
import { M2_PER_ACRE, m2FromAcres } from '../../src/engine/math/units.ts';

/** Area on the WGS 84 ellipsoid between geodesic edges. Karney, Algorithms for geodesics, J. Geodesy 87 (2013). */
function geodesicArea(lonLat: Ring): number {
  const polygon = geodesic.Geodesic.WGS84.Polygon(false);
  for (let i = 0; i < lonLat.length; i += 2) polygon.AddPoint(lonLat[i + 1], lonLat[i]);
  return Math.abs(polygon.Compute(false, true).area ?? Number.NaN);
}

function frameArea(lonLat: Ring): number {
  return Math.abs(ringArea(ringToFrame(frameAround([lonLat]), lonLat)));
}

/** A star-shaped field within a circle, somewhere between 55° S and 70° N. */
function randomField(random: () => number, corners: number, radius_m: number): Ring {
  const metres = new Float64Array(2 * corners);
  for (let i = 0; i < corners; i++) {
    const angle = (2 * Math.PI * (i + 0.8 * random())) / corners;
    const radius = radius_m * (0.4 + 0.6 * random());
    metres[2 * i] = radius * Math.cos(angle);
    metres[2 * i + 1] = radius * Math.sin(angle);
  }
  return ringToLonLat(somewhere(random), metres);
}

/** A square of a side, turned any way. */
function randomSquare(random: () => number, side_m: number): Ring {
  const turn = Math.PI * random();
  const corner = (k: number) => [Math.cos(turn + (k * Math.PI) / 2), Math.sin(turn + (k * Math.PI) / 2)];
  const metres = Float64Array.from([0, 1, 2, 3].flatMap(corner), (value) => (value * side_m) / Math.SQRT2);
  return ringToLonLat(somewhere(random), metres);
}

function somewhere(random: () => number): FieldFrame {
  return fieldFrame(-180 + 360 * random(), -55 + 125 * random());
}

/** The ring with points of the geodesic itself put into each edge, 64 of them. */
function alongGeodesics(lonLat: Ring): Ring {
  const { WGS84 } = geodesic.Geodesic;
  const dense: number[] = [];
  for (let i = 0; i < lonLat.length; i += 2) {
    const next = (i + 2) % lonLat.length;
    const { azi1 = 0, s12 = 0 } = WGS84.Inverse(lonLat[i + 1], lonLat[i], lonLat[next + 1], lonLat[next]);
    for (let piece = 0; piece < 64; piece++) {
      const { lon2 = Number.NaN, lat2 = Number.NaN } = WGS84.Direct(
        lonLat[i + 1],
        lonLat[i],
        azi1,
        (s12 * piece) / 64,
      );
      dense.push(lon2, lat2);
    }
  }
  return Float64Array.from(dense);
}

/** The largest relative difference between two areas over some fields. */
function worst(fields: readonly Ring[], area: (field: Ring) => number): number {
  return Math.max(...fields.map((field) => Math.abs(area(field) / geodesicArea(field) - 1)));
}

const MILE_M = 1609.344;
/** Radius of a circle of 10,000 acres. */
const LARGE_M = Math.sqrt(m2FromAcres(10000) / Math.PI);

function randomFields(count: number, radius_m: number, leastCorners: number, seed: number): Ring[] {
  const stream = seeded(seed);
  return Array.from({ length: count }, () => {
    const corners = leastCorners + stream.integer(41 - leastCorners);
    return randomField(stream.uniform, corners, radius_m * (0.1 + 0.9 * stream.uniform()));
  });
}

/**
 * Two things part a frame area from a geodesic one: the projection, which keeps area exactly, and the edges, which the
 * frame draws straight. They are tested apart. The second is no error: which line joins two corners is a convention,
 * and two other common ones, the geodesic and the straight line in degrees, lie further apart than this.
 */
describe('the frame against geodesic areas on the ellipsoid (geographiclib-geodesic)', () => {
  it('keeps area on 300 random fields up to a mile across, edges along the geodesics, to 2e-9 from 20 acres on', () => {
    const fields = randomFields(300, MILE_M / 2, 4, 1);
    for (const field of fields) {
      // The reference's own accuracy on a perimeter under 10 km, by its Planimeter manual.
      expect(Math.abs(frameArea(alongGeodesics(field)) - geodesicArea(field))).toBeLessThan(0.0013);
    }
    const larger = fields.filter((field) => geodesicArea(field) > m2FromAcres(20));
    expect(larger.length).toBeGreaterThan(150);
    expect(worst(larger, (field) => frameArea(alongGeodesics(field)))).toBeLessThan(2e-9);
  });

  it('keeps area to 1e-9 on 100 random fields up to 10,000 acres, edges along the geodesics', () => {
    const fields = randomFields(100, LARGE_M, 4, 2).filter((field) => geodesicArea(field) > m2FromAcres(100));
    expect(fields.length).toBeGreaterThan(80);
    expect(worst(fields, (field) => frameArea(alongGeodesics(field)))).toBeLessThan(1e-9);
  });

  // On a sphere of radius R a square of side s, drawn straight in the azimuthal equal-area plane, lacks s² / 8R² of the
  // one between geodesics (chord against geodesic to the first order; our own derivation, checked by these figures).
  it.each([
    ['a quarter section', MILE_M / 2, 2.2e-9],
    ['a section', MILE_M, 8.1e-9],
    ['10,000 acres', Math.sqrt(m2FromAcres(10000)), 1.3e-7],
  ])('draws the edges of a square of %s straight: s² / 8R² is lost', (_, side_m, most) => {
    const stream = seeded(3);
    const law = side_m ** 2 / (8 * 6371000 ** 2);
    for (let k = 0; k < 50; k++) {
      const square = randomSquare(stream.uniform, side_m);
      const lost = 1 - frameArea(square) / geodesicArea(square);
      expect(lost).toBeLessThan(most);
      // A tenth for the flattening and for what the reference rounds on 160 acres.
      expect(Math.abs(lost / law - 1)).toBeLessThan(0.1);
    }
  });

  it('agrees to 2e-8 and 6e-8 on random borders of a dozen corners and more drawn straight', () => {
    expect(worst(randomFields(300, MILE_M / 2, 12, 4), frameArea)).toBeLessThan(2e-8);
    expect(worst(randomFields(100, LARGE_M, 12, 5), frameArea)).toBeLessThan(6e-8);
  });

  it('agrees on a square mile laid across the antimeridian', () => {
    const half = 0.5 * MILE_M;
    const square = ringToLonLat(
      fieldFrame(180, -17),
      Float64Array.of(-half, -half, half, -half, half, half, -half, half),
    );
    const wrapped = square.map((value, i) => (i % 2 === 0 && value < -180 ? value + 360 : value));
    const longitudes = [...wrapped].filter((_, i) => i % 2 === 0);
    expect(Math.min(...longitudes)).toBeLessThan(-179);
    expect(Math.max(...longitudes)).toBeGreaterThan(179);
    expect(Math.abs(frameArea(wrapped) / MILE_M ** 2 - 1)).toBeLessThan(1e-9);
    expect(Math.abs(frameArea(wrapped) / geodesicArea(wrapped) - 1)).toBeLessThan(8.1e-9);
  });

  // GeographicLib 2.1.2, Planimeter, on these corners; 920,179.3719 and 82,816.7848 m².
  it('gives the areas of a field with a hole as the Planimeter program does', () => {
    const outer = Float64Array.of(-93.5, 42, -93.5, 42.01, -93.49, 42.01, -93.49, 42);
    const hole = Float64Array.of(-93.497, 42.003, -93.494, 42.003, -93.494, 42.006, -93.497, 42.006);
    const frame = frameAround([outer]);
    const { region } = regionFromRings(
      [outer, hole].map((ring) => ringToFrame(frame, ring)),
      'field',
      { crossing: 'refuse' },
    );
    expect(geodesicArea(outer)).toBeCloseTo(920179.3719, 3);
    // Its north and south edges, drawn straight, lie a little inside the geodesics: 3e-9 of 227 acres is 27 cm².
    expect(Math.abs(ringArea(region[0].outer) / 920179.3719 - 1)).toBeLessThan(4e-9);
    expect(Math.abs(-ringArea(region[0].holes[0]) / 82816.7848 - 1)).toBeLessThan(2e-9);
    expect(Math.abs(regionArea(region) / 837362.5871 - 1)).toBeLessThan(4e-9);
    // With the edges along the geodesics nothing of it is left: 920,179.3719 is printed to 5e-11.
    expect(Math.abs(frameArea(alongGeodesics(outer)) / 920179.3719 - 1)).toBeLessThan(1e-10);
    expect(regionArea(region) / M2_PER_ACRE).toBeCloseTo(206.9168, 4);
  });

  // The remaining polygons published with GeographicLib (Planimeter manual) are a degree across and more, no fields;
  // the nearest to one, one degree around 0 N 0 E, shows how far the plane of a field reaches.
  it('is 1.1e-4 off on a square of two degrees, which is no field: 24,619,419,146.9 m²', () => {
    const square = Float64Array.of(-1, 0, 0, -1, 1, 0, 0, 1);
    expect(geodesicArea(square)).toBeCloseTo(24619419146.9, 0);
    expect(Math.abs(frameArea(square) / 24619419146.9 - 1)).toBeLessThan(2e-4);
  });
});

const DATA = process.env['EACHACRE_DATA'] ?? '../shared/data';
const OHIO = join(DATA, 'ohio_trial', 'boundary.geojson');
const US_FIELDS = join(DATA, 'boundaries', 'us_csb_100.geojson');

interface Feature {
  readonly properties: { readonly Shape_Area: number };
  readonly geometry: { readonly type: string; readonly coordinates: never };
}

/** Rings of each feature of a GeoJSON file, lon/lat, with the feature's properties. */
function readFields(path: string): { rings: Ring[]; properties: Feature['properties'] }[] {
  const { features } = JSON.parse(readFileSync(path, 'utf8')) as { features: Feature[] };
  return features.map(({ geometry, properties }) => {
    const polygons: number[][][][] =
      geometry.type === 'MultiPolygon' ? geometry.coordinates : [geometry.coordinates];
    const rings = polygons.flat().map((ring) => Float64Array.from(ring.flatMap(([lon, lat]) => [lon, lat])));
    return { rings, properties };
  });
}

function draw(rings: readonly Ring[], name: string) {
  const frame = frameAround(rings);
  return regionFromRings(
    rings.map((ring) => ringToFrame(frame, ring)),
    name,
    { crossing: 'refuse' },
  );
}

describe('fields of open data', () => {
  it.skipIf(!existsSync(OHIO))('a field of 343,974.57 m² on the ellipsoid (ohio_trial boundary)', () => {
    const [{ rings }] = readFields(OHIO);
    const { region, issues } = draw(rings, 'boundary');
    expect(issues).toEqual([]);
    expect(Math.abs(regionArea(region) / geodesicArea(rings[0]) - 1)).toBeLessThan(2e-9);
    // This copy of the boundary is rounded to seven decimals of a degree, a centimetre, over 2.4 km of border: 0.58 m².
    expect(Math.abs(regionArea(region) - 343974.57)).toBeLessThan(1);
  });

  it.skipIf(!existsSync(US_FIELDS))(
    'a hundred fields with the areas their publisher gives (us_csb_100, USDA-NASS)',
    () => {
      const fields = readFields(US_FIELDS);
      let total_m2 = 0;
      for (const { rings, properties } of fields) {
        const { region, issues } = draw(rings, 'field');
        expect(issues).toEqual([]);
        total_m2 += regionArea(region);
        // Published in an equal-area projection before the corners were rounded to a centimetre.
        expect(Math.abs(regionArea(region) / properties.Shape_Area - 1)).toBeLessThan(1e-4);
      }
      expect(fields.length).toBe(100);
      expect(total_m2 / 4046.86).toBeCloseTo(1672.77, 2);
    },
  );
});
