import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Box } from '../../src/engine/geodesy/box.ts';
import { crsFromEpsg, crsFromWkt, crsToLonLat } from '../../src/engine/geodesy/crs.ts';
import { geographicCode, listedSystems } from '../../src/engine/geodesy/epsg.ts';
import { lonLatToCrs } from '../../src/engine/geodesy/lonlat-to-crs.ts';
import { DIALECTS, gdalSystems } from './gdal-systems.ts';

const GEOGRAPHIC = [4326, 4269, 4152, 4759, 6318, 4617, 4258, 4171, 4619, 4173, 9702, 4669, 4661, 4180];
const SYSTEMS = [...listedSystems().values()];

/** EPSG:28992 with EPSG operation 4833 (rotations as arc-seconds, position vector): what PROJ does where the Dutch grid is not at hand. */
const RD_BY_SEVEN_PARAMETERS =
  '+proj=sterea +lat_0=52.1561605555556 +lon_0=5.38763888888889 +k=0.9999079 +x_0=155000 +y_0=463000 +ellps=bessel ' +
  '+towgs84=565.4171,50.3319,465.5524,-0.398957388243134,0.343987817378283,-1.87740163998045,4.0725 +units=m';
/** How far off a system may be, m: the worst measured is 6e-6, but for these two (the series of the one, the shift of the other). */
const within_m = (code: number) => (code === 3035 ? 0.002 : code === 28992 ? 0.001 : 0.00002);

/** Five by five points over an area, its edge a hundredth inside. */
function pointsOver({ west, south, east, north }: Box): number[][] {
  const width = east > west ? east - west : east + 360 - west;
  const points: number[][] = [];
  for (const u of [0.01, 0.25, 0.5, 0.75, 0.99]) {
    for (const v of [0.01, 0.25, 0.5, 0.75, 0.99]) {
      const lon = west + u * width;
      points.push([lon > 180 ? lon - 360 : lon, south + v * (north - south)]);
    }
  }
  return points;
}

/** Metres between two places, on a sphere: plenty for a millimetre. */
function apart_m(lon: number, lat: number, [otherLon, otherLat]: readonly number[]): number {
  const degree = (Math.PI / 180) * 6378137;
  const turn = ((((lon - otherLon + 180) % 360) + 360) % 360) - 180;
  return Math.hypot(turn * degree * Math.cos((lat * Math.PI) / 180), (lat - otherLat) * degree);
}

/**
 * Every listed system against PROJ by its code: from degrees on the system's own datum (of the Dutch one, through the seven parameters we state), which
 * the datum's null operation then makes degrees on WGS 84.
 */
describe('every listed system against PROJ', () => {
  let proj: Awaited<ReturnType<typeof gdalSystems>>;
  beforeAll(async () => {
    proj = await gdalSystems();
  });
  afterAll(() => proj.done());

  it('puts points over its area of use, there and back, within a fiftieth of a millimetre, and all within two', {
    timeout: 300_000,
  }, async () => {
    const wrong: string[] = [];
    for (const { code, datum, area, projection } of SYSTEMS) {
      const dutch = datum.id === 'Amersfoort';
      const from = dutch ? '+proj=longlat +datum=WGS84' : `EPSG:${geographicCode(datum)}`;
      const to = dutch ? RD_BY_SEVEN_PARAMETERS : `EPSG:${code}`;
      const points = pointsOver(area);
      const xy = await proj.forward(from, to, points);
      const { lon, lat } = crsToLonLat(
        crsFromEpsg(code)!,
        Float64Array.from(xy, ([x]) => x),
        Float64Array.from(xy, ([, y]) => y),
      );
      const off = points.map((point, i) => apart_m(lon[i], lat[i], point));
      const back = lonLatToCrs(
        crsFromEpsg(code)!,
        Float64Array.from(points, ([own]) => own),
        Float64Array.from(points, ([, own]) => own),
      );
      off.push(...xy.map(([x, y], i) => Math.hypot(back.x[i] - x, back.y[i] - y) * projection.unit_m));
      const worst = off.reduce((most, own) => Math.max(most, own), 0);
      if (!(worst < within_m(code))) wrong.push(`${code} is ${worst} m off`);
    }
    expect(wrong).toEqual([]);
  });

  it('knows the text of each in three dialects as that very system', { timeout: 300_000 }, async () => {
    const wrong: string[] = [];
    const systems = [...GEOGRAPHIC, ...SYSTEMS.map(({ code }) => code)];
    for (const code of systems) {
      for (const [k, text] of (await proj.texts(`EPSG:${code}`)).entries()) {
        const { crs, issues } = crsFromWkt(text, 'layer.prj');
        if (crs?.code !== `EPSG:${code}` || issues.length > 0)
          wrong.push(`${code} ${DIALECTS[k]}: ${crs?.code} ${issues[0]?.found}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  /** What PROJ does of itself, without grid files, between the degrees of each datum and WGS 84, at a place of its area. */
  it.each([
    ['EPSG:4269', -93.5, 42, 0],
    ['EPSG:4759', -93.5, 42, 0],
    ['EPSG:6318', -93.5, 42, 0],
    ['EPSG:4258', 9.5, 52, 0],
    ['EPSG:4171', 2.4, 48.8, 0],
    ['EPSG:4619', 15, 58, 0],
    ['EPSG:4173', -8, 53, 0],
    ['EPSG:9702', 19, 52, 0],
    ['EPSG:4669', 24, 55, 0],
    ['EPSG:4661', 24, 57, 0],
    ['EPSG:4180', 25, 59, 0],
    // Operations 1901 and 1946; the registry's null operations 1580 and 1842 are ours, with NAD83's.
    ['EPSG:4152', -93.5, 42, 1.03],
    ['EPSG:4617', -106, 52, 1.22],
  ])('degrees of %s at %f, %f are %f m from the same on WGS 84, by PROJ', async (code, lon, lat, by_m) => {
    const [place] = await proj.forward(code, 'EPSG:4326', [[lon, lat]]);
    expect(Math.abs(apart_m(lon, lat, place) - by_m)).toBeLessThan(by_m === 0 ? 0.001 : 0.01);
  });
});
