import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { strToU8, zipSync } from 'fflate';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import {
  dbfFile,
  multipointContent,
  NULL_CONTENT,
  pointContent,
  polygonContent,
  shpFile,
  shxFile,
  textFile,
  WGS84_PRJ,
} from '../formats/small-files.ts';
import { buildCli, eachacre, freshFolder } from './built.ts';

let cwd = '';
beforeAll(buildCli);
beforeEach(() => {
  cwd = freshFolder();
  return () => rmSync(cwd, { recursive: true, force: true });
});

type Case = [
  name: string,
  files: readonly FileBytes[],
  exit: 0 | 1,
  codes: readonly string[],
  records?: readonly number[],
];

const bytes = (text: string) => Uint8Array.from(text, (c) => c.charCodeAt(0));
const file = (name: string, content: Uint8Array | string): FileBytes => ({
  name,
  bytes: typeof content === 'string' ? strToU8(content) : content,
});
const patched = (own: FileBytes, edit: (view: DataView) => void): FileBytes => {
  const copy = own.bytes.slice();
  edit(new DataView(copy.buffer));
  return { name: own.name, bytes: copy };
};
const cut = (own: FileBytes, n: number): FileBytes => ({ name: own.name, bytes: own.bytes.subarray(0, n) });

const TABLE = strToU8('lon,lat,v\n-93.5,42,1\n-93.6,42,2\n');
const ZIP = file('a.zip', zipSync({ 'a.csv': TABLE }));
const TWO = file('a.zip', zipSync({ 'a.csv': TABLE, 'b.csv': TABLE }));
const central = (view: DataView) => view.getUint32(view.byteLength - 6, true);
const zipped = (members: Parameters<typeof zipSync>[0]) => [file('a.zip', zipSync(members))];
const POINTS = [1, 2, 3, 4].map((i) => pointContent(-93 - i / 10, 42));
const SHP = shpFile(1, POINTS);
const ids = (n: number) =>
  dbfFile(
    [['ID', 'N', 2]],
    Array.from({ length: n }, (_, i) => [` ${i + 1}`]),
  );
const square = (x: number, y: number, side: number): [number, number][] => [
  [x, y],
  [x, y + side],
  [x + side, y + side],
  [x + side, y],
  [x, y],
];
const shape = (...files: FileBytes[]) => [...files, WGS84_PRJ];
const polygons = (...rings: [number, number][][][]) =>
  shpFile(
    5,
    rings.map((own) => polygonContent(own)),
  );
const letters = dbfFile([['T', 'C', 4]], [['ma\xefs']]);
const one = shpFile(1, [POINTS[0]]);
/** With so many zeros after the first bytes. */
function longer(own: Uint8Array, first: number, more: number): Uint8Array {
  const whole = new Uint8Array(own.length + more);
  whole.set(own.subarray(0, first));
  whole.set(own.subarray(first), first + more);
  return whole;
}
const csv = (text: string) => [textFile(text, 'a.csv')];
const json = (text: string) => [textFile(text, 'a.geojson')];
const geometry = (own: unknown) => ({ type: 'Feature', properties: {}, geometry: own });
const collection = (...own: unknown[]) =>
  json(JSON.stringify({ type: 'FeatureCollection', features: own.map(geometry) }));
const POLYGON = { type: 'Polygon', coordinates: [square(0, 0, 1)] };
const POINT = { type: 'Point', coordinates: [0, 0] };

const ARCHIVES: readonly Case[] = [
  ['Z01 cut short', [cut(ZIP, 60)], 1, ['zip-damaged']],
  ['Z02 a web page', [file('a.zip', '<!doctype html><title>404</title>')], 1, ['file-foreign']],
  [
    'Z03 a wrong checksum',
    [patched(ZIP, (view) => view.setUint32(central(view) + 16, 1, true))],
    1,
    ['zip-damaged'],
  ],
  [
    'Z04 a stated size that lies',
    [patched(ZIP, (view) => view.setUint32(central(view) + 24, 9, true))],
    1,
    ['zip-damaged'],
  ],
  ['Z05 a bomb', zipped({ 'a.csv': [new Uint8Array(30 * 2 ** 20), { level: 1 }] }), 1, ['zip-limit']],
  [
    'Z06 entries that overlap',
    [
      patched(TWO, (view) => {
        const second = central(view) + 46 + 5;
        view.setUint32(second + 42, view.getUint32(central(view) + 42, true), true);
      }),
    ],
    1,
    ['zip-damaged'],
  ],
  ['Z07 an archive in an archive', zipped({ 'b.zip': ZIP.bytes }), 0, ['zip-in-zip'], [2]],
  ['Z07 one deeper', zipped({ 'c.zip': zipSync({ 'b.zip': ZIP.bytes }) }), 1, ['zip-nested']],
  ['Z08 a name that leads out', zipped({ '../../evil.csv': TABLE }), 0, ['zip-name'], [2]],
  ['Z09 litter', zipped({ '__MACOSX/._a.csv': TABLE, '.DS_Store': TABLE, 'a.csv': TABLE }), 0, [], [2]],
  ['Z10 names beyond ASCII', zipped({ 'Süd 2.CSV': TABLE }), 0, [], [2]],
  ['Z11 two layers', zipped({ 'n.csv': TABLE, 's.csv': TABLE }), 0, [], [2, 2]],
  [
    'Z12 encrypted',
    [patched(ZIP, (view) => view.setUint16(central(view) + 8, 1, true))],
    1,
    ['zip-encrypted'],
  ],
  [
    'Z12 Deflate64',
    [patched(ZIP, (view) => view.setUint16(central(view) + 10, 9, true))],
    1,
    ['zip-unsupported'],
  ],
];

const SHAPEFILES: readonly Case[] = [
  ['S01 cut in a record', shape(cut(SHP, 200), ids(4)), 0, ['shp-truncated'], [4]],
  ['S01 cut in the first record', shape(cut(SHP, 120), ids(4)), 1, ['shp-truncated']],
  [
    'S02 a negative record length',
    shape(
      patched(SHP, (view) => view.setInt32(132, -5)),
      ids(4),
    ),
    1,
    ['shp-record-length'],
  ],
  [
    'S03 two billion rings',
    shape(patched(polygons([square(0, 0, 1)]), (view) => view.setInt32(144, 0x7fffffff, true))),
    1,
    ['shp-record-length'],
  ],
  ['S04 a null shape', shape(shpFile(1, [POINTS[0], NULL_CONTENT]), ids(2)), 0, ['no-geometry'], [2]],
  [
    'S05 a vertex that is no number',
    shape(shpFile(1, [POINTS[0], pointContent(Number.NaN, 1)]), ids(2)),
    0,
    ['coordinate-not-finite'],
    [2],
  ],
  ['S05 the only vertex', shape(shpFile(1, [pointContent(-1e39, 1)]), ids(1)), 1, ['coordinate-not-finite']],
  ['S06 a stale index', shape(SHP, ids(4), shxFile(one)), 0, ['shx-stale'], [4]],
  ['S07 no table', shape(SHP), 0, ['dbf-missing'], [4]],
  ['S08 no .shp', [ids(4)], 1, ['shp-missing']],
  ['S09 a multipatch', shape(shpFile(31, [polygonContent([square(0, 0, 1)], 31)])), 1, ['shp-type']],
  [
    'S09 several points',
    shape(
      shpFile(8, [
        multipointContent([[0, 0]]),
        multipointContent([
          [0, 0],
          [1, 1],
        ]),
      ]),
      ids(2),
    ),
    0,
    ['several-points'],
    [2],
  ],
  [
    'S10 rings that run one way',
    shape(polygons([square(0, 0, 1), square(0.2, 0.2, 0.5)]), ids(1)),
    0,
    ['ring-winding'],
    [1],
  ],
  [
    'S11 a hole outside',
    shape(polygons([square(0, 0, 1), square(5, 5, 1).reverse()]), ids(1)),
    0,
    ['ring-winding'],
    [1],
  ],
  [
    'S12 two types',
    shape(shpFile(1, [POINTS[0], polygonContent([square(0, 0, 1)])])),
    1,
    ['shp-mixed-types'],
  ],
  ['S13 no record', shape(shpFile(5, []), ids(0)), 0, ['empty-layer'], [0]],
  [
    'S14 another box',
    shape(
      patched(SHP, (view) => view.setFloat64(36, -120, true)),
      ids(4),
    ),
    0,
    ['shp-box'],
    [4],
  ],
];

const TABLES: readonly Case[] = [
  [
    'D01 four billion rows',
    shape(
      one,
      patched(ids(1), (view) => view.setUint32(4, 0xffffffff, true)),
    ),
    1,
    ['dbf-truncated'],
  ],
  ['D02 too few rows', shape(SHP, ids(2)), 1, ['dbf-count']],
  [
    'D02 a count that lies',
    shape(
      SHP,
      patched(ids(4), (view) => view.setUint32(4, 2, true)),
    ),
    0,
    ['dbf-count'],
    [4],
  ],
  [
    'D03 a row length of 0',
    shape(
      one,
      patched(ids(1), (view) => view.setUint16(10, 0, true)),
    ),
    1,
    ['dbf-record-length'],
  ],
  [
    'D04 a deleted row',
    shape(shpFile(1, POINTS.slice(0, 2)), dbfFile([['ID', 'N', 2]], [[' 1'], [' 2']], { deleted: [0] })),
    0,
    ['deleted-row'],
    [2],
  ],
  [
    'D05 a name twice',
    shape(
      one,
      dbfFile(
        [
          ['ID', 'N', 1],
          ['ID', 'N', 1],
        ],
        [['1', '2']],
      ),
    ),
    0,
    ['column-renamed'],
    [1],
  ],
  ['D06 __proto__', shape(one, dbfFile([['__proto__', 'N', 1]], [['1']])), 0, [], [1]],
  ['D07 no code page', shape(one, letters), 0, ['code-page-guessed'], [1]],
  [
    'D08 an unknown code page',
    shape(one, letters, textFile('klingon', 'a.cpg')),
    0,
    ['code-page-guessed'],
    [1],
  ],
  ['D09 a decimal comma', shape(one, dbfFile([['N', 'N', 4]], [[' 1,5']])), 0, ['dbf-not-a-number'], [1]],
  [
    'D10 a longer header',
    shape(
      one,
      patched({ name: 'a.dbf', bytes: longer(ids(1).bytes, 65, 263) }, (view) =>
        view.setUint16(8, 328, true),
      ),
    ),
    0,
    [],
    [1],
  ],
  ['D11 a memo', shape(one, dbfFile([['M', 'M', 10]], [['         1']])), 0, ['dbf-column-not-read'], [1]],
  ['D12 a date of zeros', shape(one, dbfFile([['D', 'D', 8]], [['00000000']])), 0, [], [1]],
];

const rows = (row: (i: number) => string) => Array.from({ length: 5 }, (_, i) => row(i)).join('\n');
const TEXTS: readonly Case[] = [
  ['C01 UTF-16', [file('a.csv', bytes('\xff\xfea\0,\0b\0\n\x001\0,\x002\0\n\0'))], 0, [], [1]],
  [
    'C02 semicolons and decimal commas',
    csv('x;y\n-93,5;42,25\n-93,25;42,5\n'),
    0,
    ['csv-decimal-comma'],
    [2],
  ],
  ['C03 tabs and decimal commas', csv('x\ty\n-93,5\t42,25\n-93,25\t42,5\n'), 0, ['csv-decimal-comma'], [2]],
  ['C04 lines before the header', csv('A report\n\nlon,lat\n-93.5,42\n'), 0, ['csv-preamble'], [1]],
  ['C05 no header', csv('-93.5,42,1\n-93.6,42,2\n'), 0, ['csv-no-header'], [2]],
  ['C06 an open quote', csv('a,b\n1,"x\n2,y\n'), 1, ['csv-unclosed-quote']],
  ['C07 ragged rows', csv(`a,b\n${rows((i) => `${i},${i}`)}\n3\n`), 0, ['ragged-row'], [6]],
  ['C08 a name twice', csv('a,a\n1,2\n'), 0, ['column-renamed'], [1]],
  ['C09 __proto__', csv('__proto__,b\n1,2\n'), 0, [], [1]],
  [
    'C10 thousands or decimals',
    csv('id,rate\n1,"32,000"\n2,"34,000"\n'),
    0,
    ['csv-thousands-or-decimals'],
    [2],
  ],
  ['C11 ids', csv('id,mark\n007,A1\n8,1e5\n'), 0, [], [2]],
  ['C12 blanks', csv('a,b\n1,\n,NA\n3,4\n'), 0, [], [3]],
  ['C13 binary', [file('a.csv', bytes('a,b\n1,\0\n'))], 1, ['csv-binary']],
  ['C13 a spreadsheet', [file('a.csv', zipSync({ '[Content_Types].xml': TABLE }))], 1, ['file-foreign']],
  ['C14 units', csv('lon,lat,v\ndeg,deg,bu/ac\n-93.5,42,1\n-93.6,42,2\n'), 0, ['csv-units-row'], [2]],
  ['C15 one line of 20 MB', [file('a.csv', new Uint8Array(20 * 2 ** 20).fill(65))], 1, ['csv-row-too-long']],
  ['C16 degrees and minutes', csv('lat,lon\nN42 03.5,W93 30.25\n'), 0, ['position-notation'], [1]],
  ['C16 a UTM zone', csv('easting,northing,zone\n455000,4650000,15N\n'), 0, ['utm-datum-assumed'], [1]],
];

const OBJECTS: readonly Case[] = [
  ['J01 cut short', json('{"type":"FeatureCollection","features":['), 1, ['json-truncated']],
  ['J02 NaN', json('{"type":"Point","coordinates":[NaN,1]}'), 1, ['json-number']],
  [
    'J03 a system not known',
    json(JSON.stringify({ ...POINT, crs: { type: 'name', properties: { name: 'my own grid' } } })),
    1,
    ['crs-unknown'],
  ],
  [
    'J04 an open ring',
    collection({ type: 'Polygon', coordinates: [square(0, 0, 1).slice(0, 4)] }),
    0,
    ['geometry-repaired'],
    [1],
  ],
  [
    'J05 a collection',
    collection(POLYGON, { type: 'GeometryCollection', geometries: [POINT] }),
    0,
    ['geometry-not-used'],
    [2],
  ],
  ['J05 polygons and points', collection(POLYGON, POINT), 0, [], [1, 1]],
  [
    'J06 polygons and multipolygons',
    collection(POLYGON, { type: 'MultiPolygon', coordinates: [[square(3, 3, 1)]] }),
    0,
    [],
    [2],
  ],
  ['J07 a null geometry', collection(POLYGON, null), 0, ['no-geometry'], [2]],
  ['J08 10,000 deep', json(`${'['.repeat(10_000)}${']'.repeat(10_000)}`), 1, ['json-depth']],
  ['J09 metres', collection({ type: 'Point', coordinates: [455000, 4650000] }), 1, ['geojson-out-of-range']],
];

const GROUPS: Readonly<Record<string, readonly Case[]>> = {
  archives: ARCHIVES,
  shapefiles: SHAPEFILES,
  'tables of attributes': TABLES,
  'text tables': TEXTS,
  GeoJSON: OBJECTS,
};

describe.each(Object.keys(GROUPS))('inspect: odd %s', (group) => {
  it.each(GROUPS[group].map((own) => [own[0], own] as const))(
    '%s',
    (_, [, files, exit, codes, records = []]) => {
      for (const own of files) writeFileSync(join(cwd, own.name), own.bytes);
      const { code, out, err } = eachacre(['inspect', files[0].name, '--json'], { cwd });
      expect(err).toBe('');
      const answer: {
        layers: {
          records: { read: number; used: number; repaired: number; setAside: Record<string, number> };
        }[];
        issues: { code: string; severity: string }[];
      } = JSON.parse(out);
      expect([...new Set(answer.issues.map((issue) => issue.code))]).toEqual(codes);
      expect([code, answer.issues.some(({ severity }) => severity === 'error')]).toEqual([exit, exit === 1]);
      expect(answer.layers.map((layer) => layer.records.read)).toEqual(records);
      for (const { records: own } of answer.layers)
        expect(own.used + own.repaired + Object.values(own.setAside).reduce((sum, n) => sum + n, 0)).toBe(
          own.read,
        );
    },
  );
});

describe('plan', () => {
  it('Z11 of an archive of two layers asks which, and takes the one named', () => {
    const square = (x: number) =>
      JSON.stringify({
        type: 'Polygon',
        coordinates: [
          [
            [x, 42],
            [x + 0.005, 42],
            [x + 0.005, 42.0036],
            [x, 42.0036],
            [x, 42],
          ],
        ],
      });
    writeFileSync(
      join(cwd, 'a.zip'),
      zipSync({ 'n.geojson': strToU8(square(-93.5)), 's.geojson': strToU8(square(-93.4)) }),
    );
    const plan = [
      'plan',
      '--out',
      'a.plan.json',
      '--crop',
      'corn',
      '--season',
      '2027',
      '--json',
      '--boundary',
    ];
    const asked = eachacre([...plan, 'a.zip'], { cwd });
    expect(asked.code).toBe(1);
    const issue = JSON.parse(asked.out).issues.find(
      (own: { code: string }) => own.code === 'layer-not-chosen',
    );
    expect(issue.found).toBe('2 layers: a.zip › n.geojson, a.zip › s.geojson');
  });
});
