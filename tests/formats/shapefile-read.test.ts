import { describe, expect, it } from 'vitest';
import { cellValue, type Source } from '../../src/engine/layers/source.ts';
import { readShapefile } from '../../src/formats/shapefile/read.ts';
import {
  dbfFile,
  NULL_CONTENT,
  pointContent,
  polygonContent,
  refusal,
  refusalOf,
  shpFile,
  textFile,
} from './small-files.ts';

const PRJ = textFile(
  'GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]',
  'a.prj',
);
const codes = (source: Source) => source.issues.map((issue) => issue.code);
const values = (source: Source, column: number) =>
  Array.from({ length: source.records }, (_, i) => cellValue(source.columns[column], i));
const SQUARE: [number, number][] = [
  [0, 0],
  [0, 1],
  [1, 1],
  [1, 0],
  [0, 0],
];

describe('readShapefile on small layers', () => {
  it('reads points with their rows, a null shape keeping its own', () => {
    const shp = shpFile(1, [pointContent(-93.5, 42), NULL_CONTENT, pointContent(-93.4, 42.1)]);
    const dbf = dbfFile(
      [
        ['ID', 'N', 4],
        ['NAME', 'C', 6],
      ],
      [
        ['   1', 'one   '],
        ['   2', 'two   '],
        ['****', '      '],
      ],
    );
    const source = readShapefile([shp, dbf, PRJ]);
    expect(source).toMatchObject({ shape: 'points', records: 3, crs: { code: 'EPSG:4326' } });
    expect([...source.x]).toEqual([-93.5, Number.NaN, -93.4]);
    expect(values(source, 0)).toEqual([1, 2, null]);
    expect(values(source, 1)).toEqual(['one', 'two', null]);
    expect(source.ledger).toEqual({ read: 3, used: 2, repaired: 0, setAside: { 'no-geometry': 1 } });
    expect(codes(source)).toEqual(['no-geometry']);
  });

  it('reads rings as they come, without the repeated vertex', () => {
    const hole: [number, number][] = [
      [0.2, 0.2],
      [0.4, 0.2],
      [0.4, 0.4],
      [0.2, 0.2],
    ];
    const source = readShapefile([shpFile(5, [polygonContent([SQUARE, hole])]), PRJ]);
    expect(source.rings[0]?.map((ring) => [...ring])).toEqual([
      [0, 0, 0, 1, 1, 1, 1, 0],
      [0.2, 0.2, 0.4, 0.2, 0.4, 0.4],
    ]);
    expect(codes(source)).toEqual(['dbf-missing']);
  });

  it('closes an open ring and leaves out a ring without corners, counted as repaired', () => {
    const line: [number, number][] = [
      [5, 5],
      [6, 6],
      [5, 5],
    ];
    const contents = [
      polygonContent([SQUARE.slice(0, 4)]),
      polygonContent([SQUARE, line]),
      polygonContent([line]),
    ];
    const source = readShapefile([shpFile(5, contents), PRJ]);
    expect(source.rings.map((rings) => rings?.length ?? null)).toEqual([1, 1, null]);
    expect(source.ledger).toEqual({ read: 3, used: 0, repaired: 2, setAside: { 'ring-too-short': 1 } });
  });

  it('sets deleted rows aside with their shapes', () => {
    const shp = shpFile(1, [pointContent(1, 1), pointContent(2, 2), pointContent(3, 3)]);
    const dbf = dbfFile([['ID', 'N', 2]], [[' 1'], [' 2'], [' 3']], { deleted: [1] });
    const source = readShapefile([shp, dbf, PRJ]);
    expect([...source.x]).toEqual([1, 3]);
    expect(values(source, 0)).toEqual([1, 3]);
    expect(source.ledger).toEqual({ read: 3, used: 2, repaired: 0, setAside: { 'deleted-row': 1 } });
  });

  it('reads numbers, dates and logicals; blank, stars, a comma and zeros are not known, never 0', () => {
    const dbf = dbfFile(
      [
        ['N', 'N', 6],
        ['F', 'F', 6],
        ['D', 'D', 8],
        ['L', 'L', 1],
        ['M', 'M', 10],
      ],
      [
        ['  12.5', '   1e2', '20150812', 'T', '         1'],
        ['      ', '******', '00000000', '?', '         1'],
        ['   1,5', '    -0', '        ', 'n', '         1'],
      ],
    );
    const source = readShapefile([
      shpFile(
        1,
        [1, 2, 3].map((v) => pointContent(v, v)),
      ),
      dbf,
      PRJ,
    ]);
    expect(values(source, 0)).toEqual([12.5, null, null]);
    expect(values(source, 1)).toEqual([100, null, 0]);
    expect(values(source, 2)).toEqual(['2015-08-12', null, null]);
    expect(values(source, 3)).toEqual(['true', null, 'false']);
    expect(source.columns.length).toBe(4);
    expect(codes(source)).toEqual(['dbf-not-a-number', 'dbf-column-not-read']);
  });

  it('keeps __proto__ and renames a second ID', () => {
    const dbf = dbfFile(
      [
        ['__proto__', 'N', 1],
        ['ID', 'N', 1],
        ['ID', 'N', 1],
      ],
      [['1', '2', '3']],
    );
    const source = readShapefile([shpFile(1, [pointContent(1, 1)]), dbf, PRJ]);
    expect(source.columns.map((column) => column.name)).toEqual(['__proto__', 'ID', 'ID_2']);
  });

  it('decodes by .cpg, then language byte, then what fits', () => {
    const shp = shpFile(1, [pointContent(1, 1)]);
    const bytes = (text: string) => [String.fromCharCode(...new TextEncoder().encode(text))];
    const utf8 = dbfFile([['T', 'C', 5]], [bytes('maïs')]);
    const latin = (language: number) => dbfFile([['T', 'C', 4]], [['ma\xefs']], { language });
    const read = (...files: ReturnType<typeof textFile>[]) => readShapefile([shp, PRJ, ...files]);
    expect(values(read(utf8, textFile('UTF-8', 'a.cpg')), 0)).toEqual(['maïs']);
    expect(values(read(latin(0x57)), 0)).toEqual(['maïs']);
    expect(codes(read(latin(0x57)))).toEqual([]);
    expect(values(read(utf8), 0)).toEqual(['maïs']);
    expect(values(read(latin(0)), 0)).toEqual(['maïs']);
    expect(codes(read(latin(0)))).toEqual(['code-page-guessed']);
    expect(codes(read(latin(0), textFile('klingon', 'a.cpg')))).toEqual(['code-page-guessed']);
  });

  it('says when no coordinate system is stated, unreadable or contradicted', () => {
    const shp = shpFile(1, [pointContent(-93.5, 42)]);
    const metres = shpFile(1, [pointContent(455000, 4650000)]);
    expect(codes(readShapefile([shp]))).toContain('crs-missing');
    expect(readShapefile([metres]).issues.at(-1)?.found).toContain('not degrees');
    for (const text of ['', 'rubbish', '<html>']) {
      const source = readShapefile([shp, textFile(text, 'a.prj')]);
      expect(source.crs).toBeNull();
      expect(source.issues.find((issue) => issue.code === 'crs-unreadable')?.severity).toBe('error');
    }
    const contradicted = readShapefile([metres, PRJ]);
    expect(contradicted.crs).toBeNull();
    expect(codes(contradicted)).toContain('crs-contradicts-coordinates');
  });

  it('warns of a box in the header that is not that of the shapes', () => {
    const shp = shpFile(1, [pointContent(1, 1)]);
    new DataView(shp.bytes.buffer).setFloat64(36, 0.5, true);
    expect(codes(readShapefile([shp, PRJ]))).toContain('shp-box');
  });

  it('warns of a stale index, of nothing inside, and of bytes after the end', () => {
    const shp = shpFile(1, [pointContent(1, 1)]);
    expect(codes(readShapefile([shp, textFile('x', 'a.shx'), PRJ]))).toContain('shx-stale');
    expect(codes(readShapefile([shpFile(5, []), PRJ]))).toContain('empty-layer');
    const longer = { name: 'a.shp', bytes: new Uint8Array([...shp.bytes, 0, 0]) };
    expect(codes(readShapefile([longer, PRJ]))).toContain('shp-extra-bytes');
  });
});

describe('readShapefile refuses', () => {
  const shp = shpFile(1, [pointContent(1, 1), pointContent(2, 2)]);
  const patched = (at: number, value: number, little = false, file = shp) => {
    const bytes = file.bytes.slice();
    new DataView(bytes.buffer).setInt32(at, value, little);
    return { name: 'a.shp', bytes };
  };
  const code = (...files: { name: string; bytes: Uint8Array }[]) => refusalOf(() => readShapefile(files));

  it('no signature, a wrong version, a short header', () => {
    expect(code(patched(0, 1))).toBe('shp-header');
    expect(code(patched(28, 7, true))).toBe('shp-header');
    expect(code({ name: 'a.shp', bytes: new Uint8Array(40) })).toBe('shp-header');
  });
  it('lines and surfaces, by name', () => {
    expect(refusal(() => readShapefile([patched(32, 3, true)]))?.issue).toMatchObject({
      code: 'shp-type',
      found: 'lines',
    });
    expect(code(patched(32, 31, true))).toBe('shp-type');
  });
  it('a negative or huge record length', () => {
    expect(code(patched(104, -5))).toBe('shp-record-length');
    expect(code(patched(104, 0x7fffffff))).toBe('shp-record-length');
  });
  it('two types in one file', () => expect(code(patched(108, 5, true))).toBe('shp-mixed-types'));
  it('ring and point counts that the record cannot hold, without allocating for them', () => {
    const polygon = shpFile(5, [polygonContent([SQUARE])]);
    for (const at of [144, 148, 152]) {
      for (const value of [-1, 0x7fffffff]) {
        expect(code(patched(at, value, true, polygon))).toBe('shp-record-length');
      }
    }
  });
  it('a table that is short, contradicts itself or the shapes', () => {
    const dbf = () => dbfFile([['ID', 'N', 2]], [[' 1'], [' 2']]);
    const edit = (change: (view: DataView) => void) => {
      const file = dbf();
      change(new DataView(file.bytes.buffer));
      return file;
    };
    expect(code(shp, dbf())).toBe('none');
    expect(
      code(
        shp,
        edit((view) => view.setUint32(4, 0xfffffff0, true)),
      ),
    ).toBe('dbf-truncated');
    expect(
      code(
        shp,
        edit((view) => view.setUint16(10, 0, true)),
      ),
    ).toBe('dbf-record-length');
    expect(
      code(
        shp,
        edit((view) => view.setUint16(8, 9999, true)),
      ),
    ).toBe('dbf-header');
    expect(
      code(
        shp,
        edit((view) => view.setUint8(48, 0)),
      ),
    ).toBe('dbf-header');
    expect(code(shp, dbfFile([['ID', 'N', 2]], [[' 1']]))).toBe('dbf-count');
    expect(code(shp, { name: 'a.dbf', bytes: new Uint8Array(10) })).toBe('dbf-header');
  });
});
