import { describe, expect, it } from 'vitest';
import { candidateSystems } from '../../../src/engine/geodesy/candidate-systems.ts';

const around = (x: number, y: number, half = 200) => ({
  west: x - half,
  east: x + half,
  south: y - half,
  north: y + half,
});
const codes = (list: ReturnType<typeof candidateSystems>) => list.map(({ crs }) => crs.code);

describe('systems that numbers could be in', () => {
  // UTM 15N of 42 N 93.5 W by GeographicLib 2.1.2 (its own transverse Mercator): 458591.133, 4649897.125.
  it('UTM numbers are in every zone of the Americas and Europe, the nearest to the corn belt first', () => {
    const found = candidateSystems(around(458591.133, 4649897.125));
    expect(found[0].crs).toMatchObject({ code: 'EPSG:32615', name: 'WGS 84 / UTM zone 15N' });
    expect([found[0].lon, found[0].lat].map((v) => v.toFixed(6))).toEqual(['-93.500000', '42.000000']);
    expect(found[0].distance_km).toBeLessThan(0.001);
    expect(codes(found)).toEqual(expect.arrayContaining(['EPSG:32614', 'EPSG:32616', 'EPSG:32633']));
    // None in the oceans: no zone between Newfoundland and Ireland reaches land at 42 N.
    expect(codes(found)).not.toContain('EPSG:32625');
  });

  it('with another layer of the job, the one beside it comes first', () => {
    const numbers = around(458591.133, 4649897.125);
    expect(codes(candidateSystems(numbers, { lon: 14.2, lat: 42.1 }))[0]).toBe('EPSG:32633');
    expect(codes(candidateSystems(numbers, { lon: 14.2, lat: 42.1 }))).not.toContain('EPSG:32615');
  });

  // PROJ 9.1.1: 42 N 93.5 W in EPSG:3417 is 4921250, 3463045.624 US survey feet; in EPSG:26975 1500000, 1055538.417.
  it('state plane numbers, in feet and in metres', () => {
    const near = { lon: -93.4, lat: 42.1 };
    const feet = candidateSystems(around(4921250, 3463045.6), near);
    expect(feet[0].crs).toMatchObject({ code: 'EPSG:3417', name: 'NAD83 / Iowa North (US survey feet)' });
    expect([feet[0].lon, feet[0].lat].map((v) => v.toFixed(5))).toEqual(['-93.50000', '42.00000']);
    expect(codes(candidateSystems(around(1500000, 1055538.4), near))[0]).toBe('EPSG:26975');
    expect(codes(candidateSystems(around(4921250, 3463045.6)))).toContain('EPSG:3417');
  });

  it('a Dutch place has its national grid', () => {
    expect(codes(candidateSystems(around(155000, 463000), { lon: 5.4, lat: 52.2 }))[0]).toBe('EPSG:28992');
  });

  it('degrees can only be degrees, and what is in no system has none', () => {
    expect(codes(candidateSystems({ west: -93.51, south: 42, east: -93.5, north: 42.01 }))).toEqual([
      'EPSG:4326',
    ]);
    expect(candidateSystems(around(9e9, 9e9))).toEqual([]);
    expect(candidateSystems({ west: Number.NaN, south: 0, east: 1, north: 1 })).toEqual([]);
  });

  it('answers at once', () => {
    const started = performance.now();
    candidateSystems(around(458591, 4649897));
    expect(performance.now() - started).toBeLessThan(1000);
  });
});
