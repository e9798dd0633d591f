import { describe, expect, it } from 'vitest';
import { crsFromEpsg, crsToLonLat } from '../../../src/engine/geodesy/crs.ts';
import { layersApart, layersApart_km } from '../../../src/engine/geodesy/layers-apart.ts';

const box = (west: number, south: number, east: number, north: number) => ({ west, south, east, north });
const FIELD = box(-93.505, 42, -93.5, 42.004);

describe('kilometres between layers', () => {
  // GeographicLib 2.1.2, geodesic on WGS 84: 42 N 93.5 W to 42.01 N 93.49 W is 1385.658 m; great circles agree to 0.5 %.
  it('are those between the nearest edges', () => {
    const point = (lon: number, lat: number) => box(lon, lat, lon, lat);
    expect(layersApart_km(point(-93.5, 42), point(-93.49, 42.01))).toBeCloseTo(1.385658, 2);
    expect(layersApart_km(FIELD, box(-93.51, 41.9, -93.4, 42.1))).toBe(0);
    expect(layersApart_km(FIELD, box(-93.502, 42.002, -93.4, 42.1))).toBe(0);
    // A degree of latitude is 111.2 km on the sphere of mean radius.
    expect(layersApart_km(FIELD, box(-93.51, 43.004, -93.4, 43.1))).toBeCloseTo(111.195, 2);
    expect(layersApart_km(box(-93.51, 43.004, -93.4, 43.1), FIELD)).toBeCloseTo(111.195, 2);
  });

  it('go the shorter way round, across the antimeridian', () => {
    expect(layersApart_km(box(179.9, 0, 179.95, 0), box(-179.95, 0, -179.9, 0))).toBeCloseTo(11.1195, 2);
    expect(layersApart_km(box(179.9, 0, -179.9, 1), box(-179.95, 0, -179.8, 1))).toBe(0);
  });
});

describe('a layer in the wrong UTM zone', () => {
  it('is told by the distance to the others; in the right one it is not', () => {
    const placed = (code: number) => {
      const { lon, lat } = crsToLonLat(
        crsFromEpsg(code)!,
        Float64Array.of(458591, 458800),
        Float64Array.of(4649897, 4650100),
      );
      return { where: 'yield.shp', box: box(lon[0], lat[0], lon[1], lat[1]) };
    };
    const field = { where: 'boundary.geojson', box: FIELD };
    expect(layersApart(placed(32615), field)).toBeNull();
    const issue = layersApart(placed(32616), field);
    expect(issue).toMatchObject({ code: 'layers-apart', severity: 'error', where: 'yield.shp' });
    // Six degrees of longitude at 42 N are some 496 km.
    expect(issue?.found).toMatch(/^49[5-7] km between it and boundary.geojson/);
  });

  it('a neighbouring field is no such thing', () => {
    const other = { where: 'b', box: box(-93.4, 42.2, -93.3, 42.3) };
    expect(layersApart({ where: 'a', box: FIELD }, other)).toBeNull();
  });
});
