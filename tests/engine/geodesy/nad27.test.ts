import { describe, expect, it } from 'vitest';
import { crsFromEpsg, crsFromWkt, crsToLonLat, statedCrs } from '../../../src/engine/geodesy/crs.ts';

const NAD27 =
  'GEOGCS["GCS_North_American_1927",DATUM["D_North_American_1927",SPHEROID["Clarke_1866",6378206.4,294.9786982]],PRIMEM["Greenwich",0],UNIT["Degree",0.0174532925199433]]';
const UTM_15 = `PROJCS["NAD_1927_UTM_Zone_15N",${NAD27},PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000],PARAMETER["False_Northing",0],PARAMETER["Central_Meridian",-93],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0],UNIT["Meter",1]]`;

const told = ({ crs, issues }: ReturnType<typeof crsFromWkt>) => [
  crs?.code ?? null,
  ...issues.map(({ code, severity }) => `${severity} ${code}`),
];

describe('NAD27', () => {
  it('is refused, by its text and by every kind of its codes, with how far it may lie', () => {
    for (const text of [NAD27, UTM_15])
      expect(told(crsFromWkt(text, 'a.prj'))).toEqual([null, 'error crs-nad27']);
    for (const code of [4267, 26701, 26715, 26722, 26729, 26775, 32054]) {
      expect(crsFromEpsg(code)).toBeNull();
      expect(told(statedCrs(code, 'a.geojson'))).toEqual([null, 'error crs-nad27']);
    }
    expect(crsFromWkt(UTM_15, 'a.prj').issues[0].effect).toContain('17.7 m at 42 N 93.5 W');
  });

  it('is placed by its mean shift once that is accepted, with a warning', () => {
    const accept = { acceptNad27: true };
    expect(told(crsFromWkt(NAD27, 'a.prj', accept))).toEqual(['EPSG:4267', 'warning crs-nad27-mean-shift']);
    expect(told(crsFromWkt(UTM_15, 'a.prj', accept))).toEqual(['EPSG:26715', 'warning crs-nad27-mean-shift']);
    expect(told(statedCrs(26715, 'a.geojson', accept))).toEqual([
      'EPSG:26715',
      'warning crs-nad27-mean-shift',
    ]);
    // A state plane zone of 1927 is known by its text, not by its code.
    expect(told(statedCrs(26775, 'a.geojson', accept))).toEqual([null, 'error crs-nad27']);
  });

  /** PROJ 9.1.1: `cs2cs -f %.9f +proj=longlat +ellps=clrk66 +towgs84=-8,160,176 +to EPSG:4326` and the same of `+proj=utm +zone=15`. */
  it.each([
    [4267, -93.5, 42, -93.5002142763, 42.0000072159],
    [4267, -120.25, 38.5, -120.2510032315, 38.4999065835],
    [26715, 458591.13, 4649897.13, -93.5002156004, 42.0019305752],
  ])('%i at %f, %f as PROJ puts it by that shift, to a millimetre', (code, x, y, lon, lat) => {
    const { crs } = statedCrs(code, 'a', { acceptNad27: true });
    const got = crsToLonLat(crs!, Float64Array.of(x), Float64Array.of(y));
    // 1e-8 degrees is a millimetre.
    expect(Math.abs(got.lon[0] - lon)).toBeLessThan(1e-8);
    expect(Math.abs(got.lat[0] - lat)).toBeLessThan(1e-8);
  });

  it('lies within the accuracy stated of that shift where the mean shift of the western states puts it', () => {
    const { crs } = statedCrs(4267, 'a', { acceptNad27: true });
    const { lon, lat } = crsToLonLat(crs!, Float64Array.of(-93.5), Float64Array.of(42));
    // PROJ 9.1.1 of itself, without grid files: EPSG operation 1175, of 7 m. That is 17.7 m from the numbers as they stand.
    const [westernLon, westernLat] = [-93.50021354, 41.99999451];
    const metres = (dLon: number, dLat: number) => Math.hypot(dLon * 82.9e3, dLat * 111.1e3);
    expect(metres(lon[0] - westernLon, lat[0] - westernLat)).toBeLessThan(10);
    expect(metres(westernLon + 93.5, westernLat - 42)).toBeCloseTo(17.7, 1);
  });
});

describe('a stated code', () => {
  it('that is not among the verified is refused as such', () => {
    for (const code of [0, 27700, 31370, 21781, 999999])
      expect(told(statedCrs(code, 'a'))).toEqual([null, 'error crs-not-supported']);
  });
});
