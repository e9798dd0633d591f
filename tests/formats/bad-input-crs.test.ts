import { describe, expect, it } from 'vitest';
import { crsFromEpsg, crsToLonLat } from '../../src/engine/geodesy/crs.ts';
import { Refusal } from '../../src/engine/issue.ts';
import type { Source } from '../../src/engine/layers/source.ts';
import { readCsv } from '../../src/formats/csv/read.ts';
import type { ReadOptions } from '../../src/formats/format.ts';
import { readGeojson } from '../../src/formats/geojson/read.ts';
import { readShapefile } from '../../src/formats/shapefile/read.ts';
import { IOWA_NORTH_FEET, iowaNorth, NAD27_TEXT, NAD83_TEXT, utm15, WGS84_TEXT } from './coordinate-texts.ts';
import { dbfFile, pointContent, polygonContent, shpFile, textFile } from './small-files.ts';

type Point = readonly [x: number, y: number];

/** A shapefile of points; no .prj where there is no text. */
function shapefile(prj: string | null, points: readonly Point[], options: ReadOptions = {}): Source {
  const files = [
    shpFile(
      1,
      points.map(([x, y]) => pointContent(x, y)),
    ),
    dbfFile(
      [['ID', 'N', 4]],
      points.map((_, i) => [String(i).padStart(4)]),
    ),
  ];
  return readShapefile(prj === null ? files : [...files, textFile(prj, 'a.prj')], options);
}

/** A GeoJSON text of points, with a `crs` member where one is named. */
function geojson(crs: string | null, points: readonly Point[], options: ReadOptions = {}): Source {
  const root = {
    type: 'FeatureCollection',
    ...(crs ? { crs: { type: 'name', properties: { name: crs } } } : {}),
    features: points.map((coordinates) => ({
      type: 'Feature',
      properties: { id: 1 },
      geometry: { type: 'Point', coordinates },
    })),
  };
  return readGeojson(textFile(JSON.stringify(root), 'a.geojson'), options).sources[0];
}

function csv(header: string, points: readonly Point[], options: ReadOptions = {}): Source {
  const rows = points.map(([x, y]) => `${x},${y},150`);
  return readCsv(textFile([`${header},yield`, ...rows].join('\n'), 'a.csv'), options);
}

const told = ({ issues }: Source) => issues.map(({ code, severity }) => `${severity} ${code}`);

function refused(work: () => unknown) {
  try {
    work();
  } catch (thrown) {
    if (thrown instanceof Refusal) return thrown.issue;
    throw thrown;
  }
  throw new Error('nothing was refused');
}

/** Where a source puts its first point: longitude and latitude to 1e-7 degrees, a centimetre. */
function placeOf({ crs, x, y }: Source): string[] {
  const { lon, lat } = crsToLonLat(crs!, x, y);
  return [lon[0].toFixed(7), lat[0].toFixed(7)];
}

const IOWA: Point[] = [
  [-93.5, 42],
  [-93.49, 42.01],
];
/** The same in UTM 15N, by GeographicLib's own transverse Mercator. */
const IOWA_UTM: Point[] = [
  [458591.133347, 4649897.125141],
  [459425.66726, 4651002.631253],
];
/** 42 N 93.5 W in Iowa North, US survey feet, by PROJ 9.1.1. */
const IOWA_FEET: Point[] = [[4921250, 3463045.6241]];

describe('P01 no .prj', () => {
  it('projected numbers: no system, and the systems they could be in are named', () => {
    const source = shapefile(null, IOWA_UTM);
    expect([source.crs, told(source)]).toEqual([null, ['warning crs-missing']]);
    expect(source.issues[0].remedy).toContain(
      'EPSG:32615 (WGS 84 / UTM zone 15N) would put it at latitude 42.0050, longitude -93.4950',
    );
  });
  it('degrees: no system is assumed, and WGS 84 is named', () => {
    const source = shapefile(null, IOWA);
    expect([source.crs, told(source)]).toEqual([null, ['warning crs-missing']]);
    expect(source.issues[0].remedy).toContain('EPSG:4326 (WGS 84)');
  });
  it('is answered by the system given', () => {
    const source = shapefile(null, IOWA_UTM, { crs: crsFromEpsg(32615)! });
    expect(told(source)).toEqual([]);
    expect(placeOf(source)).toEqual(['-93.5000000', '42.0000000']);
  });
  it('eastings and northings of a table', () => {
    const source = csv('easting,northing', IOWA_UTM);
    expect([source.crs, told(source)]).toEqual([null, ['warning crs-missing']]);
    expect(source.issues[0].remedy).toContain('EPSG:32615');
  });
  it('projected numbers in GeoJSON, which is degrees by its standard', () => {
    const issue = refused(() => geojson(null, IOWA_UTM));
    expect(issue.code).toBe('geojson-out-of-range');
    expect(issue.remedy).toContain('EPSG:32615');
    const given = geojson(null, IOWA_UTM, { crs: crsFromEpsg(32615)! });
    expect([placeOf(given), told(given)]).toEqual([['-93.5000000', '42.0000000'], []]);
  });
});

describe('P02 a .prj that says nothing', () => {
  it.each([
    ['empty', ''],
    ['blank', ' \r\n'],
    ['rubbish', '\u0001\u0002 rubbish'],
    ['cut short', WGS84_TEXT.slice(0, 60)],
    ['a web page', '<html></html>'],
  ])('%s', (_, text) => {
    const source = shapefile(text, IOWA);
    expect(source.crs).toBeNull();
    expect(told(source)).toEqual(['error crs-unreadable']);
  });
  it('is answered by the system given, and still told', () => {
    const source = shapefile('rubbish', IOWA_UTM, { crs: crsFromEpsg(32615)! });
    expect(told(source)).toEqual(['warning crs-unreadable']);
    expect(source.issues[0].effect).toContain('WGS 84 / UTM zone 15N, which was given');
    expect(placeOf(source)).toEqual(['-93.5000000', '42.0000000']);
  });
  it('a `crs` member without a name', () =>
    expect(refused(() => geojson(' ', IOWA)).code).toBe('crs-unknown'));
});

describe('P03 a system of feet or metres over degrees', () => {
  it('by .prj: asked, not placed where those numbers are in feet', () => {
    const source = shapefile(IOWA_NORTH_FEET, IOWA);
    expect([source.crs, told(source)]).toEqual([null, ['error crs-contradicts-coordinates']]);
    expect(source.issues[0].found).toContain('which look like degrees');
    expect(source.issues[0].remedy).toContain('EPSG:4326');
    const given = shapefile(IOWA_NORTH_FEET, IOWA, { crs: crsFromEpsg(4326)! });
    expect(told(given)).toEqual(['warning crs-contradicts-coordinates']);
    expect(placeOf(given)).toEqual(['-93.5000000', '42.0000000']);
  });
  it('by a `crs` member', () =>
    expect(refused(() => geojson('urn:ogc:def:crs:EPSG::3417', IOWA)).code).toBe(
      'crs-contradicts-coordinates',
    ));
  it('by the system given', () =>
    expect(told(shapefile(null, IOWA, { crs: crsFromEpsg(32615)! }))).toEqual([
      'error crs-contradicts-coordinates',
    ]));
});

describe('P04 a system of degrees over projected numbers', () => {
  it('by .prj', () => {
    const source = shapefile(WGS84_TEXT, IOWA_UTM);
    expect([source.crs, told(source)]).toEqual([null, ['error crs-contradicts-coordinates']]);
    expect(source.issues[0].remedy).toContain('EPSG:32615');
  });
  it('by a `crs` member', () =>
    expect(refused(() => geojson('EPSG:4326', IOWA_UTM)).code).toBe('crs-contradicts-coordinates'));
  it('by the names of columns', () => {
    const source = csv('lon,lat', IOWA_UTM);
    expect([source.crs, told(source)]).toEqual([null, ['warning crs-missing']]);
  });
});

describe('P05 US survey feet and international feet', () => {
  it('the name tells which, and the place is that of PROJ to a centimetre', () => {
    const source = shapefile(IOWA_NORTH_FEET, IOWA_FEET);
    expect(source.crs).toMatchObject({
      code: 'EPSG:3417',
      name: 'NAD83 / Iowa North (US survey feet)',
    });
    expect(placeOf(source)).toEqual(['-93.5000000', '42.0000000']);
    expect(told(source)).toEqual([]);
  });
  it('international feet are others: metres away here, and no listed system', () => {
    const source = shapefile(iowaNorth(4921259.843, 3280839.895, '"Foot",0.3048'), IOWA_FEET);
    expect(source.crs?.name).toBe('NAD_1983_StatePlane_Iowa_North_FIPS_1401 (international feet)');
    const { lon, lat } = crsToLonLat(source.crs!, source.x, source.y);
    const off_m = Math.hypot((lon[0] + 93.5) * 82900, (lat[0] - 42) * 111100);
    // 9.84 ft of false easting and 6.56 ft of false northing less, and two millionths of 182,212 ft.
    expect(off_m).toBeGreaterThan(3);
    expect(off_m).toBeLessThan(4);
  });
  it('by code', () => {
    expect(geojson('EPSG:3417', IOWA_FEET).crs?.name).toContain('US survey feet');
    expect(placeOf(geojson('EPSG:3417', IOWA_FEET))).toEqual(['-93.5000000', '42.0000000']);
    expect(csv('easting,northing', IOWA_FEET, { crs: crsFromEpsg(3417)! }).crs?.name).toContain(
      'US survey feet',
    );
  });
});

describe('P06 NAD27', () => {
  it('is refused with how far it may lie, unless its mean shift is accepted', () => {
    const source = shapefile(NAD27_TEXT, IOWA);
    expect([source.crs, told(source)]).toEqual([null, ['error crs-nad27']]);
    expect(source.issues[0].effect).toContain('17.7 m');
    const accepted = shapefile(NAD27_TEXT, IOWA, { acceptNad27: true });
    expect(told(accepted)).toEqual(['warning crs-nad27-mean-shift']);
    // PROJ 9.1.1 by EPSG operation 1173.
    expect(placeOf(accepted)).toEqual(['-93.5002143', '42.0000072']);
  });
  it('by a `crs` member', () => {
    expect(refused(() => geojson('EPSG:26715', IOWA_UTM)).code).toBe('crs-nad27');
    expect(told(geojson('EPSG:26715', IOWA_UTM, { acceptNad27: true }))).toEqual([
      'warning crs-nad27-mean-shift',
    ]);
  });
  it('projected', () => expect(told(shapefile(utm15(NAD27_TEXT), IOWA_UTM))).toEqual(['error crs-nad27']));
});

describe('P07 a datum or projection that is not known', () => {
  it('is named', () => {
    const datum = shapefile(WGS84_TEXT.replace('D_WGS_1984', 'D_Australian_1994'), IOWA);
    expect(told(datum)).toEqual(['error crs-datum-not-supported']);
    expect(datum.issues[0].found).toContain('D_Australian_1994');
    const projection = shapefile(utm15(WGS84_TEXT).replace('Transverse_Mercator', 'Krovak'), IOWA_UTM);
    expect(told(projection)).toEqual(['error crs-projection-not-supported']);
    expect(projection.issues[0].found).toContain('Krovak');
    expect(refused(() => geojson('EPSG:31370', IOWA_UTM))).toMatchObject({
      code: 'crs-unknown',
      found: "'EPSG:31370'",
    });
  });
});

describe('P08 more than a map’s system', () => {
  const vertical = 'VERTCS["NAVD_1988",VDATUM["North_American_Vertical_Datum_1988"],UNIT["Meter",1.0]]';
  it.each([
    ['a height system behind it', `${utm15(NAD83_TEXT)},${vertical}`],
    ['a compound', `COMPD_CS["both",${utm15(NAD83_TEXT)},${vertical}]`],
  ])('%s: the horizontal part is used, and told', (_, text) => {
    const source = shapefile(text, IOWA_UTM);
    expect(source.crs?.code).toBe('EPSG:26915');
    expect(told(source)).toEqual(['note crs-part-ignored']);
    expect(placeOf(source)).toEqual(['-93.5000000', '42.0000000']);
  });
});

describe('P09 a shift of four numbers', () => {
  it('is refused, whatever the datum', () => {
    const shifted = NAD83_TEXT.replace(']],PRIMEM', '],TOWGS84[1,2,3,4]],PRIMEM');
    const source = shapefile(shifted, IOWA);
    expect([source.crs, told(source)]).toEqual([null, ['error crs-datum-not-supported']]);
    expect(source.issues[0].found).toContain('a shift of 4 numbers');
    const dutch =
      'GEOGCS["Amersfoort",DATUM["Amersfoort",SPHEROID["Bessel 1841",6377397.155,299.1528128],TOWGS84[565.4,50.3,465.5,0]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]]';
    expect(told(shapefile(dutch, [[5.4, 52.1]]))).toEqual(['error crs-datum-not-supported']);
  });
});

describe('P10 longitude and latitude exchanged', () => {
  const exchanged = (points: readonly Point[]) => points.map(([x, y]): Point => [y, x]);
  const ohio: Point[] = [[-83, 40]];
  it.each([
    ['beyond the pole', IOWA],
    ['in the Antarctic', ohio],
  ])('%s: asked', (_, points) => {
    expect(told(shapefile(WGS84_TEXT, exchanged(points)))).toEqual(['error lon-lat-swapped']);
    // A receiver that knows no place writes 0, 0.
    expect(told(shapefile(WGS84_TEXT, [...exchanged(points), [0, 0]]))).toEqual(['error lon-lat-swapped']);
    expect(refused(() => geojson(null, exchanged(points))).code).toBe('lon-lat-swapped');
    expect(told(csv('lon,lat', exchanged(points)))).toEqual(['error lon-lat-swapped']);
    expect(told(csv('lat,lon', exchanged(points)))).toEqual([]);
  });
  it('and exchanged again once that is asked for', () => {
    const swapLonLat = true;
    expect(placeOf(shapefile(WGS84_TEXT, exchanged(IOWA), { swapLonLat }))).toEqual([
      '-93.5000000',
      '42.0000000',
    ]);
    expect(placeOf(geojson(null, exchanged(IOWA), { swapLonLat }))).toEqual(['-93.5000000', '42.0000000']);
  });
  it('of polygons too', () => {
    const square = polygonContent([
      [
        [40, -83],
        [40.004, -83],
        [40.004, -82.996],
        [40, -83],
      ],
    ]);
    const files = [shpFile(5, [square]), textFile(WGS84_TEXT, 'a.prj')];
    expect(told(readShapefile(files))).toContain('error lon-lat-swapped');
    const rings = readShapefile(files, { swapLonLat: true }).rings[0]?.[0];
    expect([...(rings ?? [])].slice(0, 2)).toEqual([-83, 40]);
  });
});

describe('P11 a wrong unit or zone that numbers show', () => {
  it('metres read as feet lie outside the ground of the system: warned', () => {
    // The place of Iowa North in metres, 1500000 1055538, with a .prj of feet.
    const source = shapefile(IOWA_NORTH_FEET, [[1500000, 1055538]]);
    expect(told(source)).toEqual(['warning crs-outside-area']);
    expect(source.issues[0].found).toContain('far outside the ground that system is for');
  });
  it('a field just over the edge of a zone does not', () =>
    expect(told(shapefile(utm15(WGS84_TEXT), [[200000, 4650000]]))).toEqual([]));
});

describe('P12 a latitude of −93.5', () => {
  it('is refused', () => {
    const beyond: Point[] = [[-93.5, -93.5]];
    expect(told(shapefile(WGS84_TEXT, beyond))).toEqual(['error crs-contradicts-coordinates']);
    expect(refused(() => geojson(null, beyond)).code).toBe('geojson-out-of-range');
    expect(csv('lon,lat', beyond).crs).toBeNull();
  });
});
