import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import initGdalJs, { type Gdal } from 'gdal3.js/node.js';
import type { FeatureCollection, Geometry, Polygon as JsonPolygon } from 'geojson';
import { read as readWithShapefile } from 'shapefile';
import shpjs from 'shpjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cellValue } from '../../src/engine/layers/source.ts';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { safeFileName } from '../../src/formats/file-name.ts';
import { readGeojson } from '../../src/formats/geojson/read.ts';
import { writeGeojson } from '../../src/formats/geojson/write.ts';
import type { PolygonLayer } from '../../src/formats/polygon-layer.ts';
import { sha256Hex } from '../../src/formats/sha256.ts';
import { readShapefile } from '../../src/formats/shapefile/read.ts';
import { writeShapefile } from '../../src/formats/shapefile/write.ts';
import { missing, openData } from './open-data.ts';
import { refusal, refusalOf, smallLayer } from './small-files.ts';

const LAYER = smallLayer();
const member = (files: readonly FileBytes[], extension: string) => {
  const file = files.find(({ name }) => name.endsWith(extension));
  if (!file) throw new Error(`no ${extension}`);
  return file.bytes;
};
const buffer = (bytes: Uint8Array): ArrayBuffer => new Uint8Array(bytes).buffer;

/** Twice the signed area by the shoelace formula, written apart from the product's. */
function turn(ring: readonly (readonly number[])[]): number {
  let sum = 0;
  for (let i = 0; i + 1 < ring.length; i++) {
    sum += (ring[i][0] - ring[0][0]) * (ring[i + 1][1] - ring[0][1]);
    sum -= (ring[i + 1][0] - ring[0][0]) * (ring[i][1] - ring[0][1]);
  }
  return sum;
}

/** Polygons of a geometry, each its rings. */
function polygonsOf(geometry: Geometry): JsonPolygon['coordinates'][] {
  if (geometry.type === 'Polygon') return [geometry.coordinates];
  if (geometry.type === 'MultiPolygon') return geometry.coordinates;
  throw new Error(geometry.type);
}

/**
 * What must come back: rings per polygon, twice the area, and the attributes. Doubles come back exact (1e-12 square
 * degrees is float noise); coordinates rounded to 5e-10 on a boundary of 0.05 degrees may move it by 5e-11.
 */
function expectSameLayer(collection: FeatureCollection, layer: PolygonLayer, digits = 12): void {
  expect(collection.features.length).toBe(layer.features.length);
  layer.features.forEach((feature, index) => {
    const other = collection.features[index];
    const polygons = polygonsOf(other.geometry);
    expect(polygons.map((rings) => rings.length).sort()).toEqual(
      feature.rings.map((rings) => rings.length).sort(),
    );
    const area = (rings: readonly (readonly (readonly number[])[])[]) =>
      rings.reduce((sum, ring, hole) => sum + (hole === 0 ? 1 : -1) * Math.abs(turn(ring)), 0);
    const pairs = (ring: Float64Array) =>
      Array.from({ length: ring.length / 2 + 1 }, (_, i) => [
        ring[(2 * i) % ring.length],
        ring[(2 * i + 1) % ring.length],
      ]);
    const expected = feature.rings.reduce((sum, rings) => sum + area(rings.map(pairs)), 0);
    expect(polygons.reduce((sum, rings) => sum + area(rings), 0)).toBeCloseTo(expected, digits);
    layer.fields.forEach(({ name }, column) => {
      const value = other.properties?.[name] ?? '';
      expect(value).toBe(feature.values[column]);
    });
  });
}

describe('writeGeojson', () => {
  const [file] = writeGeojson(LAYER);
  const json: FeatureCollection & { name: string; notes: unknown; crs?: unknown } = JSON.parse(
    new TextDecoder().decode(file.bytes),
  );

  it('writes what RFC 7946 asks: counter-clockwise outer rings, clockwise holes, closed, no crs', () => {
    expect(file.name).toBe('Home_80_seed.geojson');
    expect(json.crs).toBeUndefined();
    for (const { geometry } of json.features) {
      for (const rings of polygonsOf(geometry)) {
        rings.forEach((ring, hole) => {
          expect(ring.length).toBeGreaterThanOrEqual(4);
          expect(ring.at(-1)).toEqual(ring[0]);
          expect(Math.sign(turn(ring))).toBe(hole === 0 ? 1 : -1);
        });
      }
    }
  });
  it('keeps nine decimals, the notes and the values', () => {
    expectSameLayer(json, LAYER, 10);
    expect(json).toMatchObject({ name: 'Home 80, seed', notes: { unit: 'seeds/ac' } });
    expect(new TextDecoder().decode(file.bytes)).toContain('-93.447654321');
  });
  it('is read back by our reader without a word', () => {
    const { sources } = readGeojson(file);
    const [source] = sources;
    expect(source.issues).toEqual([]);
    expect(source.rings.map((rings) => rings?.length)).toEqual([2, 3, 1]);
  });
});

describe('writeShapefile', () => {
  const files = writeShapefile(LAYER);

  it('gives five members of one safe name', () => {
    expect(files.map(({ name }) => name)).toEqual(
      ['shp', 'shx', 'dbf', 'prj', 'cpg'].map((e) => `Home_80_seed.${e}`),
    );
    expect(new TextDecoder().decode(member(files, 'cpg'))).toBe('UTF-8');
  });
  it('dates the table from the job', () => {
    expect([...member(files, 'dbf').subarray(0, 4)]).toEqual([3, 126, 11, 24]);
  });
  it('is read back by our reader without a word, values and vertices exact', () => {
    const source = readShapefile(files);
    expect(source.issues).toEqual([]);
    expect(source.crs?.code).toBe('EPSG:4326');
    LAYER.features.forEach((feature, record) => {
      const values = source.columns.map((column) => cellValue(column, record) ?? '');
      expect(values).toEqual(feature.values);
      const sorted = (rings: readonly Float64Array[]) => rings.map((ring) => [...ring].sort()).sort();
      expect(sorted(source.rings[record] ?? [])).toEqual(sorted(feature.rings.flat()));
    });
  });
  it('is the same for the same job', async () => {
    const again = writeShapefile(smallLayer());
    for (const [i, file] of files.entries()) {
      expect(await sha256Hex(again[i].bytes)).toBe(await sha256Hex(file.bytes));
    }
  });

  // Second readers: shapefile 0.6.6, shpjs 6.2.0.
  it('is read the same by the shapefile library', async () => {
    const other = await readWithShapefile(buffer(member(files, 'shp')), buffer(member(files, 'dbf')), {
      encoding: 'utf-8',
    });
    expectSameLayer(other, LAYER);
  });
  it('is read the same by shpjs', async () => {
    const text = (extension: string) => new TextDecoder().decode(member(files, extension));
    const other = await shpjs({
      shp: buffer(member(files, 'shp')),
      dbf: buffer(member(files, 'dbf')),
      prj: text('prj'),
      cpg: text('cpg'),
    });
    expectSameLayer(Array.isArray(other) ? other[0] : other, LAYER);
  });

  const one = (changes: Partial<PolygonLayer>) => () => writeShapefile({ ...LAYER, ...changes });
  const withValues = (values: (string | number)[]) =>
    one({ features: [{ rings: LAYER.features[0].rings, values }] });
  const field = (name: string, width = 5, decimals = 0, kind: 'text' | 'number' = 'number') =>
    one({
      fields: [{ name, kind, width, decimals }],
      features: [{ rings: LAYER.features[0].rings, values: [kind === 'text' ? '' : 1] }],
    });

  it('refuses what does not fit, naming the record; nothing is cut', () => {
    const long = refusal(withValues(['a name of more than 20', 1, 1]));
    expect(long?.issue).toMatchObject({
      code: 'export-refused',
      where: 'Home 80, seed › record 1 › PRODUCT',
      found: '22 bytes',
    });
    expect(refusalOf(withValues(['ok', 1, 12345]))).toBe('export-refused');
    expect(refusalOf(withValues(['ok', Number.NaN, 1]))).toBe('export-refused');
    expect(refusalOf(withValues(['ok', 1e300, 1]))).toBe('export-refused');
    expect(refusalOf(withValues(['ok', '1', 1]))).toBe('export-refused');
    expect(refusalOf(withValues(['line\nend', 1, 1]))).toBe('export-refused');
    expect(refusalOf(withValues(['ok', 1]))).toBe('export-refused');
    expect(refusalOf(withValues(['ok', -0, 9999]))).toBe('none');
  });
  it('refuses names, widths and dates the format cannot hold', () => {
    for (const name of ['ELEVEN_CHAR', '1ST', 'A B', 'MAÏS', '', '__proto__'])
      expect(refusalOf(field(name))).toBe('export-refused');
    expect(refusalOf(field('TEN_CHARS_'))).toBe('none');
    expect(refusalOf(field('A', 19))).toBe('export-refused');
    expect(refusalOf(field('A', 5, 4))).toBe('export-refused');
    expect(refusalOf(field('A', 255, 0, 'text'))).toBe('export-refused');
    expect(refusalOf(field('A', 254, 0, 'text'))).toBe('none');
    const twice = [LAYER.fields[1], { ...LAYER.fields[1], name: 'seeds_ac' }];
    expect(
      refusalOf(one({ fields: twice, features: [{ rings: LAYER.features[0].rings, values: [1, 1] }] })),
    ).toBe('export-refused');
    expect(refusalOf(one({ date: { year: 1899, month: 1, day: 1 } }))).toBe('export-refused');
    expect(refusalOf(one({ date: { year: 2026, month: 13, day: 1 } }))).toBe('export-refused');
  });
  it('refuses no features, no rings, flat rings and vertices off the globe', () => {
    const shape = (...rings: Float64Array[]) => one({ features: [{ rings: [rings], values: ['a', 1, 1] }] });
    expect(refusalOf(one({ features: [] }))).toBe('export-refused');
    expect(refusalOf(one({ features: [{ rings: [], values: ['a', 1, 1] }] }))).toBe('export-refused');
    expect(refusalOf(shape())).toBe('export-refused');
    expect(refusalOf(shape(Float64Array.of(0, 0, 1, 1, 2, 2)))).toBe('export-refused');
    expect(refusalOf(shape(Float64Array.of(0, 0, 1, 0, 1, Number.NaN)))).toBe('export-refused');
    expect(refusalOf(shape(Float64Array.of(0, 0, 200, 0, 1, 1)))).toBe('export-refused');
  });
});

// Second reader: GDAL compiled to WebAssembly (gdal3.js 2.8.1).
describe('GDAL reads what we write', () => {
  let gdal: Gdal;
  const folder = mkdtempSync(join(tmpdir(), 'eachacre-formats-'));
  beforeAll(async () => {
    gdal = await initGdalJs({
      path: 'node_modules/gdal3.js/dist/package',
      logHandler: () => {},
      errorHandler: () => {},
    });
  }, 60_000);
  afterAll(() => rmSync(folder, { recursive: true }));

  async function throughGdal(files: readonly FileBytes[]): Promise<FeatureCollection> {
    const paths = files.map(({ name, bytes }) => {
      const path = join(folder, name);
      writeFileSync(path, bytes);
      return path;
    });
    const { datasets, errors } = await gdal.open(paths);
    expect(errors).toEqual([]);
    const output = await gdal.ogr2ogr(datasets[0], ['-f', 'GeoJSON', '-lco', 'COORDINATE_PRECISION=15']);
    return JSON.parse(new TextDecoder().decode(await gdal.getFileBytes(output)));
  }

  it('as a shapefile', async () => expectSameLayer(await throughGdal(writeShapefile(LAYER)), LAYER));
  it('as GeoJSON', async () => expectSameLayer(await throughGdal(writeGeojson(LAYER)), LAYER, 10));
});

// Outside: a shapefile made by GDAL 3.6 and annotated byte by byte.
describe.skipIf(missing('golden/gold.shp'))(
  'against the golden shapefile (golden/gold.shp of the open data)',
  () => {
    const ring = (...xy: number[]) => Float64Array.of(...xy);
    const files = writeShapefile({
      name: 'gold',
      fields: [{ name: 'ZONE', kind: 'number', width: 9, decimals: 0 }],
      features: [
        {
          rings: [
            [
              ring(-93.5, 42, -93.49, 42, -93.49, 42.01, -93.5, 42.01),
              ring(-93.497, 42.003, -93.497, 42.006, -93.494, 42.006, -93.494, 42.003),
            ],
          ],
          values: [1],
        },
      ],
      date: { year: 2026, month: 11, day: 24 },
    });
    const gold = (extension: string) => openData(`golden/gold.${extension}`).bytes;

    it('writes the same record, box, projection and code page, byte for byte', () => {
      const shp = member(files, 'shp');
      expect(shp.subarray(28, 320)).toEqual(gold('shp').subarray(28, 320));
      expect(shp.length).toBe(320);
      expect(member(files, 'shx').subarray(28, 108)).toEqual(gold('shx').subarray(28, 108));
      expect(member(files, 'prj')).toEqual(gold('prj'));
      expect(member(files, 'cpg')).toEqual(gold('cpg'));
    });
    it('writes the ZONE column as the golden table has it', () => {
      const dbf = member(files, 'dbf');
      expect(dbf.subarray(32, 64)).toEqual(gold('dbf').subarray(96, 128));
      expect(dbf.subarray(66, 75)).toEqual(gold('dbf').subarray(129 + 1 + 24 + 80, 243));
      expect(dbf[dbf.length - 1]).toBe(0x1a);
    });
    it('reads it: a hole, a null shape in record 2, a rate of asterisks as not known', () => {
      const source = readShapefile(
        ['shp', 'shx', 'dbf', 'prj', 'cpg'].map((e) => openData(`golden/gold.${e}`)),
      );
      expect(source.rings.map((rings) => rings?.length ?? null)).toEqual([2, null]);
      const rows = [0, 1].map((record) => source.columns.map((column) => cellValue(column, record)));
      expect(rows).toEqual([
        [32000.5, 'Hybrid A', 1],
        [null, null, 2],
      ]);
    });
  },
);

describe('safeFileName', () => {
  it.each([
    ['Home 80', 'Home_80'],
    ['../../etc/passwd', 'etc_passwd'],
    ['C:\\x', 'C_x'],
    ['con', 'file_con'],
    ['COM1.shp', 'file_COM1.shp'],
    ['Maïs', 'Mais'],
    ['..', 'unnamed'],
    ['', 'unnamed'],
    ['a\u202e\0b', 'a_b'],
    ['x'.repeat(300), 'x'.repeat(80)],
  ])('makes %j safe', (name, safe) => expect(safeFileName(name)).toBe(safe));
});

// FIPS 180-4 example: the message "abc".
describe('sha256Hex', () => {
  it('hashes abc', async () => {
    expect(await sha256Hex(new TextEncoder().encode('abc'))).toBe(
      'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad',
    );
  });
});
