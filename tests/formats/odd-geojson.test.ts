import { describe, expect, it } from 'vitest';
import type { Source } from '../../src/engine/layers/source.ts';
import { readFiles } from '../../src/formats/registry.ts';
import { textFile } from './small-files.ts';

const square = (x: number, y: number) => [
  [x, y],
  [x + 1, y],
  [x + 1, y + 1],
  [x, y + 1],
  [x, y],
];
const polygon = (x = 0, y = 0) => ({ type: 'Polygon', coordinates: [square(x, y)] });
const point = (x: number, y: number) => ({ type: 'Point', coordinates: [x, y] });
const features = (...geometries: unknown[]) =>
  geometries.map((geometry, i) => ({ type: 'Feature', properties: { n: i + 1 }, geometry }));
const collection = (geometries: unknown[], more: object = {}) =>
  JSON.stringify({ type: 'FeatureCollection', ...more, features: features(...geometries) });

async function readAll(text: string): Promise<readonly Source[]> {
  const { sources, issues } = await readFiles([textFile(text, 'a.geojson')]);
  expect(issues).toEqual([]);
  for (const { ledger } of sources) {
    const aside = Object.values(ledger.setAside).reduce((sum, n) => sum + n, 0);
    expect(ledger.used + ledger.repaired + aside).toBe(ledger.read);
  }
  return sources;
}

async function read(text: string): Promise<Source> {
  const sources = await readAll(text);
  expect(sources.length).toBe(1);
  return sources[0];
}

async function refused(text: string, code: string, where = 'a.geojson') {
  const { sources, issues } = await readFiles([textFile(text, 'a.geojson')]);
  expect(sources).toEqual([]);
  expect(issues).toMatchObject([{ code, severity: 'error', where }]);
  return issues[0];
}

const codes = (source: Source) => source.issues.map(({ code, severity }) => `${code} ${severity}`);
const numbers = (source: Source) =>
  source.columns.map((own) => (own.kind === 'number' ? [...own.values] : []));

describe('odd GeoJSON', () => {
  it('J01 cut short at any byte is refused with line and column', async () => {
    const text = collection([polygon(), point(1, 1)]).replaceAll('},', '},\n');
    for (let n = 1; n < text.length; n++) {
      const { sources, issues } = await readFiles([textFile(text.slice(0, n), 'a.geojson')]);
      expect([n, sources.length, issues[0].code]).toEqual([n, 0, 'json-truncated']);
      const lines = text.slice(0, n).split('\n');
      expect(issues[0].where).toBe(`a.geojson › line ${lines.length}:${(lines.at(-1) ?? '').length + 1}`);
    }
    await refused('{"type":"Point",}', 'json-syntax', 'a.geojson › line 1:17');
  });

  it.each(['NaN', 'Infinity', '-Infinity'])(
    'J02 with %s for a number is refused with line and column',
    async (word) => {
      const found = await refused(
        `{"type":"Point",\n"coordinates":[${word},42]}`,
        'json-number',
        `a.geojson › line 2:${word.startsWith('-') ? 17 : 16}`,
      );
      expect(found.remedy).toBe('Write null where nothing is known');
    },
  );

  it('J03 with a crs member of the old form is read in that system; one not known is refused', async () => {
    const named = (name: string, geometry: unknown) =>
      collection([geometry], { crs: { type: 'name', properties: { name } } });
    expect((await read(named('urn:ogc:def:crs:EPSG::32615', point(455000, 4650000)))).crs?.code).toBe(
      'EPSG:32615',
    );
    expect((await read(named('urn:ogc:def:crs:OGC:1.3:CRS84', point(-93, 42)))).crs?.code).toBe('EPSG:4326');
    const { sources, issues } = await readFiles([textFile(named('my own grid', point(1, 2)), 'a.geojson')]);
    const told = [...issues, ...sources.flatMap((source) => source.issues)];
    expect(told).toMatchObject([{ code: 'crs-unknown', severity: 'error', found: `'my own grid'` }]);
  });

  it('J04 with an open ring closes it; one of under three corners is set aside', async () => {
    const open = { type: 'Polygon', coordinates: [square(0, 0).slice(0, 4)] };
    const line = {
      type: 'Polygon',
      coordinates: [
        [
          [0, 0],
          [1, 1],
          [0, 0],
          [1, 1],
        ],
      ],
    };
    const source = await read(collection([open, line, polygon()]));
    expect(source.rings.map((rings) => rings?.length ?? null)).toEqual([1, null, 1]);
    expect(source.ledger).toEqual({ read: 3, used: 1, repaired: 1, setAside: { 'ring-too-short': 1 } });
    expect(source.issues.map(({ code, found }) => [code, found])).toEqual([
      ['ring-too-short', 'feature 2'],
      ['geometry-repaired', 'feature 1 (1 open ring closed)'],
    ]);
  });

  it('J05 with a geometry collection, a line or several points sets them aside, listed', async () => {
    const several = {
      type: 'MultiPoint',
      coordinates: [
        [0, 0],
        [1, 1],
      ],
    };
    const line = {
      type: 'LineString',
      coordinates: [
        [0, 0],
        [1, 1],
      ],
    };
    const source = await read(
      collection([polygon(), { type: 'GeometryCollection', geometries: [polygon()] }, line, several]),
    );
    expect(source.ledger).toEqual({ read: 4, used: 1, repaired: 0, setAside: { 'geometry-not-used': 3 } });
    expect(source.issues).toMatchObject([
      {
        code: 'geometry-not-used',
        severity: 'warning',
        found: 'features 2 (GeometryCollection), 3 (LineString), 4 (MultiPoint)',
      },
    ]);
  });

  it('J05 with polygons and points is two layers, each with its own rows', async () => {
    const line = {
      type: 'LineString',
      coordinates: [
        [0, 0],
        [1, 1],
      ],
    };
    const [polygons, points] = await readAll(
      collection([point(1, 2), polygon(), null, point(3, 4), line, polygon(5, 5)]),
    );
    expect(polygons).toMatchObject({ file: 'a.geojson › polygons', shape: 'polygons', records: 3 });
    expect(numbers(polygons)).toEqual([[2, 3, 6]]);
    expect(polygons.ledger).toEqual({
      read: 4,
      used: 2,
      repaired: 0,
      setAside: { 'no-geometry': 1, 'geometry-not-used': 1 },
    });
    expect(codes(polygons)).toEqual(['no-geometry warning', 'geometry-not-used warning']);
    expect(points).toMatchObject({ file: 'a.geojson › points', shape: 'points', records: 2 });
    expect([[...points.x], numbers(points), points.issues]).toEqual([[1, 3], [[1, 4]], []]);
  });

  it('J06 of polygons and multipolygons keeps all parts', async () => {
    const multi = { type: 'MultiPolygon', coordinates: [[square(5, 5)], [square(8, 8)]] };
    const source = await read(collection([polygon(), multi]));
    expect([source.rings.map((rings) => rings?.length), source.issues]).toEqual([[1, 2], []]);
  });

  it('J07 with a null geometry keeps the row', async () => {
    const source = await read(collection([null, polygon()]));
    expect([source.rings[0], numbers(source), source.ledger.setAside]).toEqual([
      null,
      [[1, 2]],
      { 'no-geometry': 1 },
    ]);
  });

  it.each([
    ['brackets', '['.repeat(10_000), ']'.repeat(10_000)],
    ['objects', '{"a":'.repeat(10_000), `1${'}'.repeat(10_000)}`],
  ])('J08 nested 10,000 deep in %s is refused, without a stack overflow', async (_, open, close) => {
    await refused(
      `{"type":"FeatureCollection","features":${open}${close}}`,
      'json-depth',
      `a.geojson › line 1:${39 + (open.startsWith('[') ? 99 : 99 * 5) + 1}`,
    );
  });

  it('J09 in metres without a word of it is not taken for degrees', async () => {
    const { sources, issues } = await readFiles([
      textFile(collection([point(455000, 4650000)]), 'a.geojson'),
    ]);
    const told = [...issues, ...sources.flatMap((source) => source.issues)].filter(
      ({ severity }) => severity === 'error',
    );
    expect(told.length).toBe(1);
    expect(told[0].expected).toContain('latitudes within 90 degrees');
    expect(sources.every(({ crs }) => crs === null)).toBe(true);
  });
});
