import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { IOWA_NORTH_FEET, NAD27_TEXT, NAD83_TEXT, utm15, WGS84_TEXT } from '../formats/coordinate-texts.ts';
import { dbfFile, polygonContent, shpFile } from '../formats/small-files.ts';
import { buildCli, eachacre, freshFolder, tree } from './built.ts';
import { layFiles, PLAN, ring, SQUARE } from './small-field.ts';

let cwd = '';
beforeAll(buildCli);
beforeEach(() => {
  cwd = freshFolder();
  layFiles(cwd);
  return () => rmSync(cwd, { recursive: true, force: true });
});

const put = (name: string, content: string | Uint8Array) => writeFileSync(join(cwd, name), content);

type Corner = readonly [number, number];
const DEGREES: readonly Corner[] = ring(SQUARE);
/** A square of about 400 m in the same place, in UTM 15N. */
const UTM: readonly Corner[] = [
  [458591, 4649897],
  [458991, 4649897],
  [458991, 4650297],
  [458591, 4650297],
  [458591, 4649897],
];
/** And in US survey feet of Iowa North, its first corner at 42 N 93.5 W by PROJ 9.1.1. */
const FEET: readonly Corner[] = [
  [4921250, 3463045.624],
  [4922550, 3463045.624],
  [4922550, 3464345.624],
  [4921250, 3464345.624],
  [4921250, 3463045.624],
];

/** field.shp of one square, clockwise as its format has it, with a .prj where there is a text. */
function laySquare(corners: readonly Corner[], prj: string | null): void {
  const shp = shpFile(5, [polygonContent([corners.map(([x, y]): [number, number] => [x, y]).reverse()])]);
  put('field.shp', shp.bytes);
  put('field.dbf', dbfFile([['ID', 'N', 4]], [['   1']]).bytes);
  if (prj !== null) put('field.prj', prj);
}

function layGeojson(corners: readonly Corner[], crs: string | null): void {
  put(
    'field.geojson',
    JSON.stringify({
      type: 'FeatureCollection',
      ...(crs ? { crs: { type: 'name', properties: { name: crs } } } : {}),
      features: [{ type: 'Feature', properties: {}, geometry: { type: 'Polygon', coordinates: [corners] } }],
    }),
  );
}

interface Told {
  readonly code: string;
  readonly severity: string;
  readonly found: string;
  readonly effect: string;
  readonly remedy: string;
}

function ask(...args: string[]) {
  const answer = eachacre([...args, '--json'], { cwd });
  expect(answer.err).not.toMatch(/^\s+at .*:\d+/m);
  const json: {
    layers?: { crs: { code: string; name: string } | null; extent: { west: number; south: number } | null }[];
    issues: Told[];
  } = JSON.parse(answer.out);
  return { code: answer.code, ...json };
}
const inspect = (file = 'field.shp') => ask('inspect', file);
const plan = (...more: string[]) => ask(...PLAN, ...more);
const issue = (answer: { issues: readonly Told[] }, code: string) => {
  const found = answer.issues.find((own) => own.code === code);
  expect([code, found !== undefined]).toEqual([code, true]);
  return found as Told;
};

/** The file as boundary stops the planning with this code, and nothing is written. */
function boundaryRefused(code: string, file = 'field.shp', ...more: string[]): Told {
  const before = tree(cwd);
  const answer = plan('--boundary', file, ...more);
  expect([code, answer.code]).toEqual([code, 1]);
  expect(tree(cwd)).toEqual(before);
  return issue(answer, code);
}

function boundaryTaken(file = 'field.shp', ...more: string[]) {
  const answer = plan('--boundary', file, ...more);
  expect([answer.issues.filter(({ severity }) => severity === 'error'), answer.code]).toEqual([[], 0]);
  return answer;
}

describe('P01 no .prj', () => {
  it('projected numbers are asked about, with systems they could be in', () => {
    laySquare(UTM, null);
    expect(issue(inspect(), 'crs-missing').remedy).toContain('EPSG:32615 (WGS 84 / UTM zone 15N)');
    boundaryRefused('crs-missing');
    boundaryTaken('field.shp', '--crs', 'field.shp=EPSG:32615');
  });
  it('degrees are never taken in silence', () => {
    laySquare(DEGREES, null);
    expect(issue(inspect(), 'crs-missing').severity).toBe('warning');
    issue(boundaryTaken(), 'crs-missing');
  });
  it('projected numbers in GeoJSON', () => {
    layGeojson(UTM, null);
    expect(boundaryRefused('geojson-out-of-range', 'field.geojson').remedy).toContain('EPSG:32615');
  });
});

describe('P02 a .prj that says nothing', () => {
  it.each([
    ['empty', ''],
    ['rubbish', '\u0007 rubbish [[['],
  ])('%s', (_, text) => {
    laySquare(DEGREES, text);
    expect(inspect().code).toBe(1);
    issue(inspect(), 'crs-unreadable');
    boundaryRefused('crs-unreadable');
    expect(issue(boundaryTaken('field.shp', '--crs', 'field.shp=EPSG:4326'), 'crs-unreadable').severity).toBe(
      'warning',
    );
  });
});

describe('P03 a .prj of feet over degrees', () => {
  it('is told and asked about', () => {
    laySquare(DEGREES, IOWA_NORTH_FEET);
    const answer = inspect();
    expect(answer.code).toBe(1);
    expect(issue(answer, 'crs-contradicts-coordinates').found).toContain('which look like degrees');
    boundaryRefused('crs-contradicts-coordinates');
    boundaryTaken('field.shp', '--crs', 'field.shp=EPSG:4326');
  });
});

describe('P04 a .prj of degrees over projected numbers', () => {
  it('is told and asked about', () => {
    laySquare(UTM, WGS84_TEXT);
    expect(inspect().code).toBe(1);
    expect(boundaryRefused('crs-contradicts-coordinates').remedy).toContain('EPSG:32615');
    boundaryTaken('field.shp', '--crs', 'field.shp=EPSG:32615');
  });
});

describe('P05 US survey feet', () => {
  it('are named, and placed to a centimetre', () => {
    laySquare(FEET, IOWA_NORTH_FEET);
    const { code, layers } = inspect();
    expect(code).toBe(0);
    expect(layers?.[0].crs).toEqual({ code: 'EPSG:3417', name: 'NAD83 / Iowa North (US survey feet)' });
    const extent = layers?.[0].extent;
    // 1e-7 degrees are a centimetre.
    expect(Math.abs((extent?.west ?? Number.NaN) + 93.5)).toBeLessThan(1e-7);
    // The straight southern edge dips another centimetre below the parallel: 396² m² · tan 42° / 2 R.
    expect(Math.abs((extent?.south ?? Number.NaN) - 42 + 1e-7)).toBeLessThan(1e-7);
    boundaryTaken();
  });
});

describe('P06 NAD27', () => {
  it('is refused with how far it may lie', () => {
    laySquare(UTM, utm15(NAD27_TEXT));
    expect(inspect().code).toBe(1);
    expect(boundaryRefused('crs-nad27').effect).toContain('17.7 m at 42 N 93.5 W');
  });
  it('in GeoJSON', () => {
    layGeojson(UTM, 'urn:ogc:def:crs:EPSG::26715');
    boundaryRefused('crs-nad27', 'field.geojson');
  });
});

describe('P07 what is not known is named', () => {
  it('a datum', () => {
    laySquare(DEGREES, WGS84_TEXT.replace('D_WGS_1984', 'D_Tokyo'));
    expect(boundaryRefused('crs-datum-not-supported').found).toContain('D_Tokyo');
  });
  it('a projection', () => {
    laySquare(UTM, utm15(WGS84_TEXT).replace('Transverse_Mercator', 'Krovak'));
    expect(boundaryRefused('crs-projection-not-supported').found).toContain('Krovak');
  });
  it('a code', () => {
    layGeojson(UTM, 'EPSG:31370');
    expect(boundaryRefused('crs-unknown', 'field.geojson').found).toContain('EPSG:31370');
  });
});

describe('P08 a system with heights', () => {
  it('its horizontal part is used, and told', () => {
    const vertical = 'VERTCS["NAVD_1988",VDATUM["North_American_Vertical_Datum_1988"],UNIT["Meter",1.0]]';
    laySquare(UTM, `${utm15(NAD83_TEXT)},${vertical}`);
    const answer = inspect();
    expect([answer.code, answer.layers?.[0].crs?.code]).toEqual([0, 'EPSG:26915']);
    issue(boundaryTaken(), 'crs-part-ignored');
  });
});

describe('P09 a shift of four numbers', () => {
  it('is refused', () => {
    laySquare(DEGREES, NAD83_TEXT.replace(']],PRIMEM', '],TOWGS84[1,2,3,4]],PRIMEM'));
    expect(boundaryRefused('crs-datum-not-supported').found).toContain('a shift of 4 numbers');
  });
});

describe('P10 longitude and latitude exchanged', () => {
  const exchanged = DEGREES.map(([x, y]): Corner => [y, x]);
  it('in a shapefile', () => {
    laySquare(exchanged, WGS84_TEXT);
    expect(inspect().code).toBe(1);
    boundaryRefused('lon-lat-swapped');
  });
  it('in GeoJSON', () => {
    layGeojson(exchanged, null);
    boundaryRefused('lon-lat-swapped', 'field.geojson');
  });
  it('in a table', () => {
    put('swapped.csv', `lat,lon,yield bu/ac\n${'-93.499,42.001,150\n'.repeat(50)}`);
    expect(inspect('swapped.csv').code).toBe(1);
    const answer = plan('--yield', 'swapped.csv');
    expect(answer.code).toBe(1);
    issue(answer, 'lon-lat-swapped');
  });
  it('in a table of Ohio, whose longitudes could be latitudes', () => {
    put('swapped.csv', `lat,lon,yield bu/ac\n${'-83.1,40.2,150\n'.repeat(50)}`);
    expect(inspect('swapped.csv').code).toBe(1);
    issue(inspect('swapped.csv'), 'lon-lat-swapped');
  });
});

describe('P12 a latitude of −93.5', () => {
  const beyond = DEGREES.map(([x, y]): Corner => [x, y - 135.5]);
  it('in a shapefile', () => {
    laySquare(beyond, WGS84_TEXT);
    boundaryRefused('crs-contradicts-coordinates');
  });
  it('in GeoJSON', () => {
    layGeojson(beyond, null);
    boundaryRefused('geojson-out-of-range', 'field.geojson');
  });
  it('in a table', () => {
    put('beyond.csv', `lon,lat,yield bu/ac\n${'-93.5,-93.5,150\n'.repeat(50)}`);
    const answer = plan('--yield', 'beyond.csv');
    expect(answer.code).toBe(1);
    issue(answer, 'crs-missing');
  });
});
