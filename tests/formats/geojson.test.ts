import { describe, expect, it } from 'vitest';
import { cellValue, type Source } from '../../src/engine/layers/source.ts';
import { readGeojson } from '../../src/formats/geojson/read.ts';
import { refusal, refusalOf, textFile } from './small-files.ts';

const SQUARE = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
  [0, 0],
];
const feature = (geometry: unknown, properties: unknown = {}) => ({ type: 'Feature', properties, geometry });
const polygon = (...rings: number[][][]) => ({ type: 'Polygon', coordinates: rings });
const point = (x: number, y: number) => ({ type: 'Point', coordinates: [x, y] });
const collection = (features: unknown[], more: object = {}) => ({
  type: 'FeatureCollection',
  ...more,
  features,
});
const read = (value: unknown) => readText(JSON.stringify(value));
const readText = (text: string) => {
  const { sources } = readGeojson(textFile(text, 'a.geojson'));
  expect(sources.length).toBe(1);
  return sources[0];
};
const codes = (source: Source) => source.issues.map((issue) => issue.code);

describe('readGeojson', () => {
  it('reads polygons and multipolygons as the rings of a record', () => {
    const multi = { type: 'MultiPolygon', coordinates: [[SQUARE], [SQUARE.map(([x, y]) => [x + 5, y])]] };
    const source = read(collection([feature(polygon(SQUARE)), feature(multi)]));
    expect(source).toMatchObject({ shape: 'polygons', records: 2, crs: { code: 'EPSG:4326' } });
    expect(source.rings.map((rings) => rings?.length)).toEqual([1, 2]);
    expect([...(source.rings[0]?.[0] ?? [])]).toEqual([0, 0, 1, 0, 1, 1, 0, 1]);
  });

  it('reads points, a bare geometry, and a byte-order mark', () => {
    const source = readText(`\ufeff${JSON.stringify(point(-93.5, 42))}`);
    expect(source).toMatchObject({ shape: 'points', records: 1, columns: [] });
    expect([source.x[0], source.y[0]]).toEqual([-93.5, 42]);
  });

  it('keeps a feature without geometry as a row', () => {
    const source = read(collection([feature(null, { a: 1 }), feature(polygon(SQUARE), { a: 2 })]));
    expect(source.rings[0]).toBeNull();
    expect(source.ledger).toEqual({ read: 2, used: 1, repaired: 0, setAside: { 'no-geometry': 1 } });
  });

  it('gives columns their kinds; null is not known; __proto__ and the feature id are kept', () => {
    const text = `{"type":"FeatureCollection","features":[
      {"type":"Feature","id":"f1","geometry":null,"properties":{"n":1.5,"t":"007","b":true,"o":{"k":[1]},"__proto__":5,"mix":1}},
      {"type":"Feature","id":"f2","geometry":null,"properties":{"n":null,"t":null,"b":false,"mix":"x"}}]}`;
    const source = readText(text);
    expect(source.shape).toBe('table');
    const table = Object.fromEntries(
      source.columns.map((c) => [`${c.name}:${c.kind}`, [cellValue(c, 0), cellValue(c, 1)]]),
    );
    expect(table).toEqual({
      'id:text': ['f1', 'f2'],
      'n:number': [1.5, null],
      't:text': ['007', null],
      'b:text': ['true', 'false'],
      'o:text': ['{"k":[1]}', null],
      '__proto__:number': [5, null],
      'mix:text': ['1', 'x'],
    });
    expect(({} as Record<string, unknown>)['n']).toBeUndefined();
  });

  it('sets lines and broken geometries aside with reasons', () => {
    const line = {
      type: 'LineString',
      coordinates: [
        [0, 0],
        [1, 1],
      ],
    };
    const broken = {
      type: 'Polygon',
      coordinates: [
        [
          [0, 'x'],
          [1, 1],
          [2, 2],
        ],
      ],
    };
    const source = read(collection([feature(polygon(SQUARE)), feature(line), feature(broken)]));
    expect(source.ledger).toEqual({
      read: 3,
      used: 1,
      repaired: 0,
      setAside: { 'geometry-not-used': 1, 'geometry-broken': 1 },
    });
    expect(codes(source)).toEqual(['geometry-not-used', 'geometry-broken']);
  });

  it('closes open rings and sets aside what has no three corners', () => {
    const source = read(
      collection([
        feature(polygon(SQUARE.slice(0, 4))),
        feature(
          polygon([
            [0, 0],
            [1, 1],
            [0, 0],
          ]),
        ),
        feature(
          polygon(SQUARE, [
            [0, 0],
            [0, 0],
            [0, 0],
          ]),
        ),
      ]),
    );
    expect(source.rings.map((rings) => rings?.length ?? null)).toEqual([1, null, 1]);
    expect(source.ledger).toEqual({ read: 3, used: 0, repaired: 2, setAside: { 'ring-too-short': 1 } });
  });

  it.each([
    'urn:ogc:def:crs:OGC:1.3:CRS84',
    'urn:ogc:def:crs:OGC::CRS84',
    'EPSG:4326',
    'urn:ogc:def:crs:EPSG::4326',
    'http://www.opengis.net/def/crs/OGC/1.3/CRS84',
  ])('takes the legacy system %s for WGS 84', (name) => {
    const source = read(collection([feature(point(1, 2))], { crs: { type: 'name', properties: { name } } }));
    expect(source.crs?.code).toBe('EPSG:4326');
  });

  it('honours a legacy projected system and refuses an unknown one', () => {
    const named = (name: string) =>
      collection([feature(point(500000, 6100000))], { crs: { type: 'name', properties: { name } } });
    expect(read(named('urn:ogc:def:crs:EPSG::25832')).crs?.code).toBe('EPSG:25832');
    expect(refusalOf(() => read(named('EPSG:999999')))).toBe('crs-unknown');
    expect(refusalOf(() => read(named('my grid')))).toBe('crs-unknown');
  });

  it('warns of a collection without features', () => {
    expect(codes(read(collection([])))).toEqual(['empty-layer']);
  });
});

describe('readGeojson refuses', () => {
  it('metres that pose as degrees', () => {
    expect(refusalOf(() => read(feature(point(455000, 4650000))))).toBe('geojson-out-of-range');
  });
  it('a cut file, with line and column', () => {
    const found = refusal(() => readText('{"type":"FeatureCollection",\n"features":[{"type":"Fea'));
    expect(found?.issue).toMatchObject({ code: 'json-truncated', where: 'a.geojson › line 2:25' });
  });
  it('NaN and Infinity, with line and column', () => {
    const text = '{"type":"Point","coordinates":\n [NaN,1]}';
    expect(refusal(() => readText(text))?.issue).toMatchObject({
      code: 'json-number',
      where: 'a.geojson › line 2:3',
    });
    expect(refusalOf(() => readText(text.replace('NaN', '-Infinity')))).toBe('json-number');
    expect(refusalOf(() => readText(text.replace('NaN', '"NaN"')))).toBe('geojson-no-shapes');
  });
  it('other broken syntax, brackets and nesting', () => {
    expect(refusalOf(() => readText('{"type":"Point",}'))).toBe('json-syntax');
    expect(refusalOf(() => readText('{"type":]}'))).toBe('json-syntax');
    expect(refusalOf(() => readText(`${'['.repeat(10000)}${']'.repeat(10000)}`))).toBe('json-depth');
  });
  it('what is no GeoJSON', () => {
    for (const text of [
      '[]',
      '{}',
      '{"type":"Topology"}',
      '{"type":"FeatureCollection"}',
      '{"type":"FeatureCollection","features":[1]}',
    ]) {
      expect(refusalOf(() => readText(text))).toBe('geojson-type');
    }
  });
  it('lines only', () => {
    const line = {
      type: 'LineString',
      coordinates: [
        [0, 0],
        [1, 1],
      ],
    };
    expect(refusalOf(() => read(feature(line)))).toBe('geojson-no-shapes');
  });
});
