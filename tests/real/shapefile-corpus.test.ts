import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Gdal } from 'gdal3.js/node.js';
import type { Feature, FeatureCollection, Geometry, Position } from 'geojson';
import { beforeAll, describe, expect, it } from 'vitest';
import { cellValue, type Source } from '../../src/engine/layers/source.ts';
import { readFiles } from '../../src/formats/registry.ts';
import { freshFolder } from '../cli/built.ts';
import { missing, openData } from '../formats/open-data.ts';
import { shxFile } from '../formats/small-files.ts';
import { dataPath, openGdal } from './open-fields.ts';

const CORPUS = 'shp_corpus';
const MEMBERS = ['shp', 'shx', 'dbf', 'prj', 'cpg'];
const shapefiles = missing(CORPUS)
  ? []
  : readdirSync(dataPath(CORPUS), { recursive: true })
      .map(String)
      .filter((path) => path.endsWith('.shp'))
      .map((path) => path.slice(0, -4))
      .sort();

const LINES = 'lines have no use here';
/** What is not read: by code, and why. */
const REFUSED: Readonly<Record<string, readonly [code: string, why: string]>> = {
  'fiona/test_tin': ['shp-type', 'a surface in space (multipatch)'],
  'mbostock/empty': ['shp-type', LINES],
  'mbostock/multipointm': ['shp-type', 'several points in every record'],
  'mbostock/multipoints': ['shp-type', 'several points in every record'],
  'mbostock/polylinem': ['shp-type', LINES],
  'mbostock/polylines': ['shp-type', LINES],
  'pyshp/corrupt_too_long': ['shp-type', LINES],
  'shapelib/shape_eg_data/brklinz': ['shp-type', LINES],
  'shapelib/shape_eg_data/csah': ['shp-type', LINES],
  'shapelib/shape_eg_data/mexico/drainage': ['shp-type', LINES],
  'shapelib/shape_eg_data/mexico/rivers': ['shp-type', LINES],
  'shapelib/shape_eg_data/mexico/roads': ['shp-type', LINES],
  'shapelib/shape_eg_data/mexico/roads_rt': ['shp-type', LINES],
  'shapelib/shape_eg_data/multipatch': ['shp-type', 'a surface in space (multipatch)'],
  'shapelib/shape_eg_data/pline': ['shp-type', LINES],
  'shpjs/bad': ['shp-header', 'a file of other bytes under that name'],
  'shpjs/export_multipointz': ['shp-type', 'several points in every record'],
  'shpjs/export_polylinez': ['shp-type', LINES],
};

/** 22 points in the .shp and in the table; an index whose header says 8. */
const STALE_INDEX = 'shapelib/shape_eg_data/3dpoints';

const filesOf = (path: string) =>
  MEMBERS.map((ending) => `${CORPUS}/${path}.${ending}`).filter((name) => !missing(name));

function positions(geometry: Geometry | null): Position[] {
  if (geometry === null) return [];
  if (geometry.type === 'Point') return [geometry.coordinates];
  if (geometry.type === 'MultiPoint') return geometry.coordinates;
  if (geometry.type === 'Polygon') return geometry.coordinates.flatMap((ring) => ring.slice(0, -1));
  if (geometry.type === 'MultiPolygon')
    return geometry.coordinates.flat().flatMap((ring) => ring.slice(0, -1));
  throw new Error(geometry.type);
}

function ourPositions(source: Source, record: number): Position[] {
  if (source.shape === 'points')
    return Number.isNaN(source.x[record]) ? [] : [[source.x[record], source.y[record]]];
  return (source.rings[record] ?? []).flatMap((ring) =>
    Array.from({ length: ring.length / 2 }, (_, i) => [ring[2 * i], ring[2 * i + 1]]),
  );
}

/** Sorted, since others turn and nest rings; the ends beyond the plane left out. */
const sorted = (pairs: readonly Position[]) =>
  pairs.map(([x, y]) => [x, y]).sort(([ax, ay], [bx, by]) => ax - bx || ay - by);

/** The largest difference of a coordinate from the other reading, as a share of the coordinate. */
function worst(source: Source, others: readonly Feature[]): number {
  let most = 0;
  others.forEach((other, record) => {
    const [ours, theirs] = [sorted(ourPositions(source, record)), sorted(positions(other.geometry))];
    expect([record, ours.length]).toEqual([record, theirs.length]);
    ours.forEach((pair, i) => {
      for (const axis of [0, 1])
        most = Math.max(most, Math.abs(pair[axis] - theirs[i][axis]) / Math.max(1, Math.abs(pair[axis])));
    });
  });
  return most;
}

/** Whether a value is what the other reader has: logicals as their letters, dates with other marks between or with none, blanks as nothing. */
function alike(ours: number | string | null, theirs: unknown): boolean {
  if (ours === null) return theirs === null || theirs === '' || theirs === '?';
  if (typeof theirs === 'boolean') return ours === String(theirs);
  if (typeof theirs === 'number') return Math.abs(Number(ours) - theirs) <= 1e-12 * Math.abs(theirs);
  if (typeof theirs !== 'string' || typeof ours === 'number') return false;
  if (ours === 'true') return 'TtYy'.includes(theirs);
  if (ours === 'false') return 'FfNn'.includes(theirs);
  return ours === theirs.trimEnd() || ours.replaceAll('-', '') === theirs.replaceAll('/', '');
}

/** Values that differ from those the other reader has. */
function differing(source: Source, others: readonly Feature[]): string[] {
  const columns = new Map(source.columns.map((column) => [column.name, column]));
  return others.flatMap((other, record) =>
    Object.entries(other.properties ?? {}).flatMap(([name, theirs]) => {
      const column = columns.get(name);
      const ours = column ? cellValue(column, record) : `no column`;
      // This build of GDAL cannot decode every code page; the letters it could not are not compared.
      if (typeof theirs === 'string' && theirs.includes('\ufffd')) return [];
      return alike(ours, theirs) ? [] : [`${record + 1} ${name}: ${ours}, theirs ${JSON.stringify(theirs)}`];
    }),
  );
}

// 50 shapefiles of five libraries' own test suites. Second readers: GDAL (gdal3.js 2.8.1), and the readings the authors of one suite keep beside its files.
describe.skipIf(missing(CORPUS))('the shapefile corpus (shp_corpus of the open data)', () => {
  let gdal: Gdal;
  let folder = '';
  beforeAll(async () => {
    gdal = await openGdal();
    folder = freshFolder();
    return () => rmSync(folder, { recursive: true, force: true });
  });

  async function byGdal(path: string): Promise<FeatureCollection> {
    const files = filesOf(path).map(openData);
    // GDAL reads no shapefile without its index, and only as many records as a stale one has; this reader needs none.
    const index = files.findIndex(({ name }) => name.endsWith('.shx'));
    if (index < 0 || path === STALE_INDEX)
      files.splice(index < 0 ? files.length : index, 1, shxFile(files[0], `${path}.shx`));
    const paths = files.map(({ name, bytes }) => {
      const own = join(folder, `${path.replaceAll('/', '-')}${name.slice(name.lastIndexOf('.'))}`);
      writeFileSync(own, bytes);
      return own;
    });
    const { datasets, errors } = await gdal.open(paths);
    if (errors.length > 0) throw new Error(errors.join('; '));
    const output = await gdal.ogr2ogr(datasets[0], [
      ...['-f', 'GeoJSON', '-dim', 'XY', '-lco', 'COORDINATE_PRECISION=15'],
    ]);
    return JSON.parse(new TextDecoder().decode(await gdal.getFileBytes(output)));
  }

  it('holds the 50 files this was written for', () => expect(shapefiles.length).toBe(50));

  it.each(shapefiles.filter((path) => path in REFUSED))(
    '%s is refused, for a stated reason',
    async (path) => {
      const { sources, issues } = await readFiles(filesOf(path).map(openData));
      expect([sources.length, issues.map(({ code }) => code)]).toEqual([0, [REFUSED[path][0]]]);
    },
  );

  it.each(shapefiles.filter((path) => !(path in REFUSED)))('%s as GDAL reads it', async (path) => {
    const { sources, issues } = await readFiles(filesOf(path).map(openData));
    expect(issues).toEqual([]);
    const [source] = sources;
    const other = await byGdal(path);
    expect(source.records).toBe(other.features.length);
    // It writes coordinates with 15 digits after the point, or as many as a double has.
    expect(worst(source, other.features)).toBeLessThan(1e-14);
    expect(differing(source, other.features)).toEqual([]);
    const theirs = Object.keys(other.features[0]?.properties ?? {});
    // Without a table it makes up a column of record numbers.
    if (source.columns.length > 0) expect(source.columns.map(({ name }) => name)).toEqual(theirs);
  });

  it.each(shapefiles.filter((path) => !(path in REFUSED) && existsSync(dataPath(`${CORPUS}/${path}.json`))))(
    '%s as its authors wrote down',
    async (path) => {
      const { sources } = await readFiles(filesOf(path).map(openData));
      const other: FeatureCollection = JSON.parse(readFileSync(dataPath(`${CORPUS}/${path}.json`), 'utf8'));
      const features = other.type === 'FeatureCollection' ? other.features : [other as unknown as Feature];
      expect(sources[0].records).toBe(features.length);
      expect(worst(sources[0], features)).toBe(0);
      expect(differing(sources[0], features)).toEqual([]);
    },
  );
});
