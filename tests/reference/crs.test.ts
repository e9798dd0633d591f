import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Crs, crsFromEpsg, crsFromWkt, crsToLonLat } from '../../src/engine/geodesy/crs.ts';
import { type Datum, NAD83_DATUM } from '../../src/engine/geodesy/datum.ts';
import { type Projection, proj4Text } from '../../src/engine/geodesy/projection.ts';
import { M_PER_US_SURVEY_FT } from '../../src/engine/math/units.ts';

/** Metres between where a system puts a point and where it should be, on a sphere: plenty for a millimetre. */
function offBy_m(crs: Crs, x: number, y: number, lon: number, lat: number): number {
  const got = crsToLonLat(crs, Float64Array.of(x), Float64Array.of(y));
  const degree = (Math.PI / 180) * 6378137;
  return Math.hypot(
    (got.lon[0] - lon) * degree * Math.cos((lat * Math.PI) / 180),
    (got.lat[0] - lat) * degree,
  );
}

const degrees = (d: number, m = 0, s = 0) => d + m / 60 + s / 3600;

/**
 * Worked examples of IOGP Publication 373-7-2 (EPSG Guidance Note 7-2). They stand on datums we refuse to place on the
 * ground, so each is checked on its own ellipsoid, by the projection alone, through our own text for it.
 */
describe('projections against the worked examples of EPSG Guidance Note 7-2', () => {
  const onEllipsoid = (text: string): Datum => ({ id: 'unknown', proj4: text });
  const clarke1866 = onEllipsoid('+a=6378206.4 +b=6356583.8');
  const crs = (projection: Projection, datum: Datum): Crs => ({
    code: 'custom',
    name: 'example',
    proj4: proj4Text(projection, datum),
  });

  it('Transverse Mercator (method 9807), Airy: 577,274.99 E 69,740.50 N', () => {
    const national = crs(
      {
        method: 'tmerc',
        lat0: 49,
        lon0: -2,
        scale: 0.9996013,
        falseEasting_m: 400000,
        falseNorthing_m: -100000,
        unit_m: 1,
      },
      onEllipsoid('+a=6377563.396 +rf=299.32496'),
    );
    expect(offBy_m(national, 577274.9888, 69740.4971, 0.5, 50.5)).toBeLessThan(0.001);
    // As printed, to the centimetre.
    expect(offBy_m(national, 577274.99, 69740.5, 0.5, 50.5)).toBeLessThan(0.01);
  });

  // Values of this and the next three from memory of the guidance note, reproduced by PROJ 9.1.1.
  it('Lambert with two parallels (9802), Clarke 1866, US survey feet: 2,963,503.91 E 254,759.80 N', () => {
    const texas = crs(
      {
        method: 'lcc',
        lat0: degrees(27, 50),
        lon0: -99,
        lat1: degrees(28, 23),
        lat2: degrees(30, 17),
        falseEasting_m: 2000000 * M_PER_US_SURVEY_FT,
        falseNorthing_m: 0,
        unit_m: M_PER_US_SURVEY_FT,
      },
      clarke1866,
    );
    expect(offBy_m(texas, 2963503.9128, 254759.8006, -96, 28.5)).toBeLessThan(0.001);
    expect(offBy_m(texas, 2963503.91, 254759.8, -96, 28.5)).toBeLessThan(0.01);
  });

  it('Lambert with one parallel (9801), Clarke 1866: 255,966.58 E 142,493.51 N', () => {
    const jamaica = crs(
      {
        method: 'lcc',
        lat0: 18,
        lon0: -77,
        lat1: 18,
        scale: 1,
        falseEasting_m: 250000,
        falseNorthing_m: 150000,
        unit_m: 1,
      },
      clarke1866,
    );
    expect(
      offBy_m(jamaica, 255966.5818, 142493.511, -degrees(76, 56, 37.26), degrees(17, 55, 55.8)),
    ).toBeLessThan(0.001);
  });

  it('Oblique stereographic (9809), Bessel: 196,105.283 E 557,057.739 N', () => {
    const dutch = crs(
      {
        method: 'sterea',
        lat0: degrees(52, 9, 22.178),
        lon0: degrees(5, 23, 15.5),
        scale: 0.9999079,
        falseEasting_m: 155000,
        falseNorthing_m: 463000,
        unit_m: 1,
      },
      onEllipsoid('+ellps=bessel'),
    );
    expect(offBy_m(dutch, 196105.283, 557057.739, 6, 53)).toBeLessThan(0.001);
  });

  it('Albers (9822), GRS 80: 1,466,493.492 E 702,903.006 N', () => {
    const lakes = crs(
      {
        method: 'aea',
        lat0: 45.568977,
        lon0: -84.455955,
        lat1: 42.122774,
        lat2: 49.01518,
        falseEasting_m: 1000000,
        falseNorthing_m: 1000000,
        unit_m: 1,
      },
      NAD83_DATUM,
    );
    expect(offBy_m(lakes, 1466493.492, 702903.006, -78.75, 42.75)).toBeLessThan(0.001);
  });

  it('Pseudo-Mercator (1024): -11,169,055.58 E 2,800,000.00 N', () => {
    const mercator = crsFromEpsg(3857);
    expect(offBy_m(mercator!, -11169055.58, 2800000, -100.33333333, 24.38178694)).toBeLessThan(0.01);
  });
});

/**
 * PROJ 9.1.1 by `echo X Y | cs2cs -f %.11f EPSG:CODE EPSG:4326`, without grid files. The first line of zone 15 is also
 * GeographicLib's own transverse Mercator. EPSG:28992 by operation 4833 (seven parameters).
 */
const BY_PROJ: readonly (readonly [code: number, x: number, y: number, lat: number, lon: number])[] = [
  [4326, -93.5, 42, 42, -93.5],
  [4269, -93.5, 42, 42, -93.5],
  [4258, 9.5, 56, 56, 9.5],
  [32615, 458591.133347, 4649897.125141, 42, -93.5],
  [32615, 459425.66726, 4651002.631253, 42.01, -93.49],
  [32615, 700123.4, 4100456.7, 37.02900289057, -90.75012306587],
  [32721, 345678.9, 6123456.7, -35.01977342522, -58.69148190078],
  [26915, 500123.4, 4649000.5, 41.99301329141, -92.9985101419],
  [25832, 512345.6, 6201234.5, 55.95630841, 9.19772539182],
  [5070, 205641.8944, 2113617.4102, 42.00000000038, -93.50000000028],
  [5070, -654321.5, 1444555.25, 35.82696441819, -103.3145489495],
  [3857, -11169055.5759, 2800000.0026, 24.38178694006, -100.33333333011],
  [2154, 652381.2, 6862047.1, 48.85669999579, 2.35100179125],
  [26975, 1500000, 1055538.4173, 41.99999999995, -93.5],
  [26975, 1623456.7, 1101234.5, 42.40153942913, -92.000281622],
  [3417, 4921250, 3463045.6241, 42.00000000007, -93.5],
  [3417, 5400000.5, 3500000.25, 42.08770183089, -91.7361608892],
  [28992, 155000, 463000, 52.15517230119, 5.38720350841],
  [28992, 233883.131, 582065.167, 53.21938106318, 6.56819774],
  [28992, 44000.5, 382000.25, 51.41620172693, 3.79147808487],
  [28992, 196139.4, 556971.2, 52.9981319285, 5.99997313901],
];

describe('systems by EPSG code against PROJ', () => {
  it.each(BY_PROJ)('EPSG:%i puts %f, %f at %f, %f to a millimetre', (code, x, y, lat, lon) => {
    const crs = crsFromEpsg(code);
    expect(crs?.code).toBe(`EPSG:${code}`);
    expect(offBy_m(crs!, x, y, lon, lat)).toBeLessThan(0.001);
  });

  it('knows no code it was not compared for', () => {
    for (const code of [0, 4267, 26715, 27700, 32600, 32661, 26924, 25839, 31370, Number.NaN, 4326.5]) {
      expect(crsFromEpsg(code)).toBeNull();
    }
  });
});

const GEOGCS_NAD83 =
  'GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]';

/** Texts written by PROJ 9.1.1 (`projinfo EPSG:CODE -o WKT1:ESRI`), points by cs2cs to EPSG:4269. */
const STATE_PLANE: readonly (readonly [string, string, number, number, number, number])[] = [
  [
    'Lambert, US survey feet',
    `PROJCS["NAD_1983_StatePlane_Texas_North_Central_FIPS_4202_Feet",${GEOGCS_NAD83},PROJECTION["Lambert_Conformal_Conic"],PARAMETER["False_Easting",1968500.0],PARAMETER["False_Northing",6561666.667],PARAMETER["Central_Meridian",-98.5],PARAMETER["Standard_Parallel_1",33.9666666666667],PARAMETER["Standard_Parallel_2",32.1333333333333],PARAMETER["Latitude_Of_Origin",31.6666666666667],UNIT["US survey foot",0.304800609601219]]`,
    2500000,
    7000000,
    32.85946914815,
    -96.7689454071,
  ],
  [
    'Transverse Mercator, international feet',
    `PROJCS["NAD_1983_StatePlane_Arizona_East_FIPS_0201_Feet_Intl",${GEOGCS_NAD83},PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",700000.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-110.166666666667],PARAMETER["Scale_Factor",0.9999],PARAMETER["Latitude_Of_Origin",31.0],UNIT["foot",0.3048]]`,
    650000.5,
    900000.25,
    33.47391926835,
    -110.33063974857,
  ],
  [
    'Lambert, metres',
    `PROJCS["NAD_1983_StatePlane_Massachusetts_Mainland_FIPS_2001",${GEOGCS_NAD83},PROJECTION["Lambert_Conformal_Conic"],PARAMETER["False_Easting",200000.0],PARAMETER["False_Northing",750000.0],PARAMETER["Central_Meridian",-71.5],PARAMETER["Standard_Parallel_1",42.6833333333333],PARAMETER["Standard_Parallel_2",41.7166666666667],PARAMETER["Latitude_Of_Origin",41.0],UNIT["Meter",1.0]]`,
    236000.5,
    901000.5,
    42.35867392753,
    -71.06299944445,
  ],
  [
    'Lambert, international feet',
    `PROJCS["NAD_1983_StatePlane_Montana_FIPS_2500_Feet_Intl",${GEOGCS_NAD83},PROJECTION["Lambert_Conformal_Conic"],PARAMETER["False_Easting",1968503.937],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-109.5],PARAMETER["Standard_Parallel_1",49.0],PARAMETER["Standard_Parallel_2",45.0],PARAMETER["Latitude_Of_Origin",44.25],UNIT["foot",0.3048]]`,
    2000000,
    500000,
    45.62120725887,
    -109.3768686319,
  ],
];

describe('state-plane systems by their text against PROJ', () => {
  it.each(STATE_PLANE)('%s', (_, wkt, x, y, lat, lon) => {
    const { crs, issues } = crsFromWkt(wkt, 'layer.prj');
    expect(issues).toEqual([]);
    expect(offBy_m(crs!, x, y, lon, lat)).toBeLessThan(0.001);
  });

  it('would be decimetres off, were the survey foot taken as the international one', () => {
    const [, wkt, x, y, lat, lon] = STATE_PLANE[0];
    const { crs } = crsFromWkt(wkt.replace('0.304800609601219', '0.3048'), 'layer.prj');
    expect(offBy_m(crs!, x, y, lon, lat)).toBeGreaterThan(0.1);
  });
});

const DATA = process.env['EACHACRE_DATA'] ?? '../shared/data';

function memberOf(zip: string, member: string): string {
  return execFileSync('unzip', ['-p', zip, member], { encoding: 'utf8' });
}

describe('texts of open data', () => {
  const montana = join(DATA, 'montana_barley_2015', 'yield_2015.zip');
  it.skipIf(!existsSync(montana))('a harvest file with a system of its own (montana_barley_2015)', () => {
    const { crs, issues } = crsFromWkt(memberOf(montana, 'FarmerB_YE_YLD_2015_sec1east.prj'), 'yield.prj');
    expect(crs).toMatchObject({ code: 'custom', name: 'UTM_Zone_12_Northern_Hemisphere' });
    expect(issues.map(({ code, severity }) => [code, severity])).toEqual([['crs-datum-assumed', 'note']]);
    // GRS 80 and WGS 84 differ by 0.1 mm here.
    const utm = crsToLonLat(crsFromEpsg(32612)!, Float64Array.of(480000), Float64Array.of(5230000));
    expect(offBy_m(crs!, 480000, 5230000, utm.lon[0], utm.lat[0])).toBeLessThan(0.001);
  });

  const denmark = join(DATA, 'boundaries', 'dk_100_epsg25832.zip');
  it.skipIf(!existsSync(denmark))('Danish fields (boundaries/dk_100)', () => {
    const { crs, issues } = crsFromWkt(memberOf(denmark, 'Marker_2026.prj'), 'fields.prj');
    expect(crs?.code).toBe('EPSG:25832');
    expect(issues).toEqual([]);
  });
});
