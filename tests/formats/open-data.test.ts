import type { Feature, FeatureCollection, Geometry, Position } from 'geojson';
import { read as readWithShapefile } from 'shapefile';
import { describe, expect, it } from 'vitest';
import { cellValue, type Source } from '../../src/engine/layers/source.ts';
import { readCsv } from '../../src/formats/csv/read.ts';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { readFiles } from '../../src/formats/registry.ts';
import { readZip } from '../../src/formats/zip/read.ts';
import { missing, openData, openFolder } from './open-data.ts';

const only = async (files: readonly FileBytes[]): Promise<Source> => {
  const { sources, issues } = await readFiles(files);
  expect(issues.filter((issue) => issue.severity === 'error')).toEqual([]);
  expect(sources.length).toBe(1);
  return sources[0];
};

function positions(geometry: Geometry | null): Position[] {
  if (geometry === null) return [];
  if (geometry.type === 'Point') return [geometry.coordinates];
  if (geometry.type === 'Polygon') return geometry.coordinates.flatMap((ring) => ring.slice(0, -1));
  if (geometry.type === 'MultiPolygon')
    return geometry.coordinates.flat().flatMap((ring) => ring.slice(0, -1));
  throw new Error(geometry.type);
}

const sortedPairs = (pairs: readonly (readonly number[])[]) => pairs.map(([x, y]) => `${x} ${y}`).sort();

function ourPositions(source: Source, record: number): number[][] {
  if (source.shape === 'points')
    return Number.isNaN(source.x[record]) ? [] : [[source.x[record], source.y[record]]];
  return (source.rings[record] ?? []).flatMap((ring) =>
    Array.from({ length: ring.length / 2 }, (_, i) => [ring[2 * i], ring[2 * i + 1]]),
  );
}

function expectSame(source: Source, other: FeatureCollection): void {
  expect(source.records).toBe(other.features.length);
  other.features.forEach((feature: Feature, record) => {
    expect(sortedPairs(ourPositions(source, record))).toEqual(sortedPairs(positions(feature.geometry)));
    for (const column of source.columns) {
      const theirs: unknown = feature.properties?.[column.name];
      const ours = cellValue(column, record);
      if (theirs instanceof Date) {
        // Their dates are midnights of the reader's own time zone.
        const pad = (n: number) => String(n).padStart(2, '0');
        expect(ours).toBe(`${theirs.getFullYear()}-${pad(theirs.getMonth() + 1)}-${pad(theirs.getDate())}`);
      } else if (typeof theirs === 'boolean') expect(ours).toBe(String(theirs));
      else if (typeof theirs === 'string') expect(ours ?? '').toBe(theirs.trimEnd());
      else expect(ours).toBe(theirs ?? null);
    }
  });
}

const CORPUS: readonly [string, string?][] = [
  ['mbostock/points'],
  ['mbostock/polygons'],
  ['mbostock/null'],
  ['mbostock/boolean-property'],
  ['mbostock/date-property'],
  ['mbostock/number-property'],
  ['mbostock/number-null-property'],
  ['mbostock/mixed-properties'],
  ['mbostock/string-property'],
  ['mbostock/latin1-property', 'windows-1252'],
  ['mbostock/utf8-property', 'utf-8'],
  ['mbostock/pointm'],
  ['mbostock/polygonm'],
  ['mbostock/singleton'],
  ['pyshp/blockgroups'],
  ['shpjs/codepage', 'windows-1250'],
  ['shpjs/utf', 'utf-8'],
  ['shapelib/shape_eg_data/polygon'],
  ['shapelib/shape_eg_data/anno'],
  ['shapelib/shape_eg_data/mexico/cities'],
  ['shapelib/shape_eg_data/mexico/states'],
  ['shapelib/shape_eg_data/mexico/lakes'],
];

// Files of five libraries' own test suites; second reader: shapefile 0.6.6.
describe.skipIf(missing('shp_corpus'))('the shapefile corpus (shp_corpus of the open data)', () => {
  it.each(CORPUS)('reads %s as the shapefile library does', async (path, encoding = 'utf-8') => {
    const members = ['shp', 'shx', 'dbf', 'prj', 'cpg']
      .map((e) => `shp_corpus/${path}.${e}`)
      .filter((p) => !missing(p));
    const files = members.map(openData);
    const part = (e: string) => {
      const file = files.find(({ name }) => name.endsWith(e));
      return file && new Uint8Array(file.bytes).buffer;
    };
    const other = await readWithShapefile(part('.shp') ?? new ArrayBuffer(0), part('.dbf'), { encoding });
    expectSame(await only(files), other);
  });

  // Their tables end without the mark the second reader looks for, so only the shapes are compared.
  it.each(['masspntz', '3dpoints'])('reads the shapes of %s as the shapefile library does', async (name) => {
    const file = openData(`shp_corpus/shapelib/shape_eg_data/${name}.shp`);
    expectSame(await only([file]), await readWithShapefile(new Uint8Array(file.bytes).buffer, undefined));
  });

  it.each([
    ['mbostock/polylines.shp', 'shp-type'],
    ['mbostock/multipoints.shp', 'shp-type'],
    ['fiona/test_tin.shp', 'shp-type'],
    ['shpjs/bad.shp', 'shp-header'],
  ])('refuses %s with %s', async (path, code) => {
    const { issues } = await readFiles([openData(`shp_corpus/${path}`)]);
    expect(issues.map((issue) => issue.code)).toEqual([code]);
  });
});

describe.skipIf(missing('montana_barley_2015'))(
  'the barley field (montana_barley_2015 of the open data)',
  () => {
    it('gives 31,062 points of 19 columns, as the shapefile library reads them', async () => {
      const file = openData('montana_barley_2015/yield_2015.zip');
      const source = await only([file]);
      expect(source).toMatchObject({ shape: 'points', records: 31062 });
      expect(source.columns.length).toBe(19);
      expect(source.ledger).toEqual({ read: 31062, used: 31062, repaired: 0, setAside: {} });
      expect(source.crs).not.toBeNull();
      const members = await readZip(file);
      const part = (e: string) =>
        new Uint8Array(members.find(({ name }) => name.endsWith(e))?.bytes ?? []).buffer;
      const other = await readWithShapefile(part('.shp'), part('.dbf'));
      let differing = 0;
      other.features.forEach((feature, i) => {
        const [x, y] = positions(feature.geometry)[0];
        if (x !== source.x[i] || y !== source.y[i]) differing++;
        for (const column of source.columns) {
          const theirs = feature.properties?.[column.name] ?? null;
          if (cellValue(column, i) !== (theirs === '' ? null : theirs)) differing++;
        }
      });
      expect(differing).toBe(0);
    });
  },
);

describe.skipIf(missing('boundaries'))('the field boundaries (boundaries of the open data)', () => {
  it('reads 100 Danish fields in their own system', async () => {
    const source = await only([openData('boundaries/dk_100_epsg25832.zip')]);
    expect(source).toMatchObject({ shape: 'polygons', records: 100, crs: { code: 'EPSG:25832' } });
    expect(source.ledger.used).toBe(100);
  });
  it('reads 100 American fields, 3 of them with holes', async () => {
    const source = await only([openData('boundaries/us_csb_100.geojson')]);
    expect(source).toMatchObject({ shape: 'polygons', records: 100, crs: { code: 'EPSG:4326' } });
    const raw = JSON.parse(new TextDecoder().decode(openData('boundaries/us_csb_100.geojson').bytes));
    expectSame(source, raw);
  });
  it('says what to do about the Dutch GeoPackage', async () => {
    const { issues } = await readFiles([openData('boundaries/nl_100_epsg28992.gpkg')]);
    expect(issues).toMatchObject([{ code: 'file-foreign', remedy: 'Export it as a shapefile or GeoJSON' }]);
  });
});

describe.skipIf(missing('iowa_soils'))('soil tables without a header (iowa_soils of the open data)', () => {
  it('takes the published column names', () => {
    const header = readCsv(openData('iowa_soils/SSURGO_component-colnames.csv'));
    const columns = header.columns.map((column) => column.name);
    const source = readCsv(openData('iowa_soils/boone/comp.txt'), { columns });
    expect(source.records).toBe(10);
    expect(source.issues.filter((issue) => issue.severity === 'error')).toEqual([]);
    const name = source.columns.find((column) => column.name === 'compname');
    expect(name && cellValue(name, 0)).toBe('Coland');
  });
});

describe.skipIf(missing('trials'))('trial tables (trials of the open data)', () => {
  it('reads every one whole, as plain tables', async () => {
    const { sources, issues } = await readFiles(
      openFolder('trials').filter(({ name }) => name.endsWith('.csv')),
    );
    expect(issues).toEqual([]);
    expect(sources.length).toBe(10);
    for (const source of sources) {
      expect(source.shape).toBe('table');
      expect(source.ledger).toEqual({
        read: source.records,
        used: source.records,
        repaired: 0,
        setAside: {},
      });
    }
  });
});
