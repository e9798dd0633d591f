import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import geodesic from 'geographiclib-geodesic';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { reportSchema } from '../../src/cli/report.ts';
import { buildCli, eachacre, freshFolder } from './built.ts';
import {
  boundaryText,
  geojson,
  layFiles,
  PLAN,
  ring,
  type SmallField,
  SQUARE,
  yieldText,
} from './small-field.ts';

let cwd = '';
beforeAll(buildCli);
beforeEach(() => {
  cwd = freshFolder();
  return () => rmSync(cwd, { recursive: true, force: true });
});

/** Area on the WGS 84 ellipsoid by GeographicLib 2.2, a library that shares nothing with the engine, m². */
function geodesicArea(field: SmallField): number {
  const polygon = geodesic.Geodesic.WGS84.Polygon(false);
  for (const [lon, lat] of ring(field).slice(0, -1)) polygon.AddPoint(lat, lon);
  return Math.abs(polygon.Compute(false, true).area ?? NaN);
}

function report(...more: string[]) {
  const planned = eachacre([...PLAN, ...more], { cwd });
  expect([planned.code, planned.err]).toEqual([0, expect.any(String)]);
  const ran = eachacre(['run', 'a.plan.json', '--out', 'out', '--json'], { cwd });
  expect([ran.code, ran.err]).toEqual([0, expect.any(String)]);
  return reportSchema.parse(JSON.parse(ran.out));
}

describe('places', () => {
  it.each<[string, SmallField]>([
    ['in the southern hemisphere', { ...SQUARE, lon: 149.6, lat: -28.5 }],
    ['on the equator', { ...SQUARE, lon: 34.5, lat: -0.0018 }],
    ['on the prime meridian', { ...SQUARE, lon: -0.002, lat: 52 }],
    ['across two UTM zones', { ...SQUARE, lon: -96.002, lat: 42 }],
    ['far in the north', { ...SQUARE, lon: 25.5, lat: 66.5 }],
    ['just west of the antimeridian', { ...SQUARE, lon: 179.99, lat: -16.5 }],
    ['of 10,000 acres', { ...SQUARE, side_deg: 0.058 }],
  ])('a field %s has its area on the ellipsoid, and a hand-off that holds', (_, field) => {
    layFiles(cwd, field);
    const { field: found, proof, zones, ledger } = report();
    // Up to a mile across 2e-9. On a square four miles across drawn with four corners only, edges straight in the frame and geodesics part by 1.3e-7.
    const tolerance = field.side_deg > 0.01 ? 2e-7 : 2e-9;
    expect(Math.abs((found?.area_m2 ?? NaN) / geodesicArea(field) - 1)).toBeLessThan(tolerance);
    expect(Math.abs((found?.cellArea_m2 ?? NaN) / (found?.area_m2 ?? NaN) - 1)).toBeLessThan(1e-9);
    expect(proof?.ok).toBe(true);
    expect(zones.length).toBe(3);
    const seeds = zones.reduce((sum, zone) => sum + zone.acres * (zone.seedsPerAc ?? NaN), 0);
    // Seeds are rounded to whole ones by zone.
    expect(Math.abs((ledger?.total.seeds ?? NaN) - seeds)).toBeLessThanOrEqual(0.5 * zones.length);
  });

  it.each([
    ['as two parts that meet there, as RFC 7946 §3.1.9 asks', true],
    ['in longitudes that jump from 180 to -180', false],
  ])('a field across the antimeridian %s: the right area, or words', (_, parts) => {
    const field = { ...SQUARE, lon: 179.998, lat: -16.5 };
    layFiles(cwd, field);
    const [west, , top] = [field.lon, 0, field.lat + field.side_deg];
    const east = ring(field)[1][0] - 360;
    const half = (from: number, to: number) => [
      [
        [from, field.lat],
        [to, field.lat],
        [to, top],
        [from, top],
        [from, field.lat],
      ],
    ];
    writeFileSync(
      join(cwd, 'boundary.geojson'),
      parts
        ? geojson({ type: 'MultiPolygon', coordinates: [half(west, 180), half(-180, east)] })
        : geojson({ type: 'Polygon', coordinates: half(west, east) }),
    );
    const planned = eachacre(PLAN, { cwd });
    const ran =
      planned.code === 0 ? eachacre(['run', 'a.plan.json', '--out', 'out', '--json'], { cwd }) : planned;
    if (ran.code === 0) {
      const { field: found, proof } = reportSchema.parse(JSON.parse(ran.out));
      expect(Math.abs((found?.area_m2 ?? NaN) / geodesicArea(field) - 1)).toBeLessThan(1e-6);
      expect(proof?.ok).toBe(true);
    } else {
      expect(ran.code).toBe(1);
      expect(`${ran.out}${ran.err}`).toMatch(/"severity": "error"|^error: /m);
    }
  });
});

describe('small fields', () => {
  it('of 0.2 ac', () => {
    // 809 m² is a square of 28.45 m; a degree of latitude is about 111.07 km there.
    const field = { ...SQUARE, side_deg: 28.45 / 111_070 };
    layFiles(cwd, field);
    const { field: found, proof } = report();
    expect(found?.acres).toBeCloseTo(0.2, 2);
    expect(proof?.ok).toBe(true);
  });
  it('of one cell: one zone, and words', () => {
    const field = { ...SQUARE, side_deg: 8 / 111_070 };
    layFiles(cwd, field);
    const { field: found, zones, issues, proof } = report();
    expect(found?.cells).toBe(1);
    expect(zones.length).toBe(1);
    expect(issues.map(({ code }) => code)).toContain('field-one-cell');
    expect(proof?.ok).toBe(true);
  });
  it('asked for more zones than it has levels of ground', () => {
    layFiles(cwd);
    writeFileSync(
      join(cwd, 'yield-2025.csv'),
      yieldText(SQUARE, (u) => (u < 0.5 ? '150' : '210')),
    );
    const plan = ['--zones', '8'];
    const { zones, issues } = report(...plan);
    expect(zones.length).toBeLessThanOrEqual(8);
    expect(zones.length).toBeGreaterThanOrEqual(2);
    expect(zones.every((zone) => zone.acres > 0)).toBe(true);
    if (zones.length < 8) expect(issues.map(({ code }) => code)).toContain('zones-fewer');
  });
  it('whose cells are finer than memory holds', () => {
    layFiles(cwd, { ...SQUARE, side_deg: 0.058 });
    writeFileSync(join(cwd, 'boundary.geojson'), boundaryText({ ...SQUARE, side_deg: 0.058 }));
    const planned = eachacre([...PLAN, '--cell', '1'], { cwd });
    expect(planned.code).toBe(1);
    expect(planned.err).toContain('[grid-too-fine]');
  });
});
