import { describe, expect, it } from 'vitest';
import type { Source } from '../../src/engine/layers/source.ts';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { readFiles } from '../../src/formats/registry.ts';
import {
  dbfFile,
  multipointContent,
  NULL_CONTENT,
  pointContent,
  polygonContent,
  shpFile,
  shxFile,
  WGS84_PRJ,
} from './small-files.ts';

type Pairs = [number, number][];
const square = (x: number, y: number, side: number): Pairs => [
  [x, y],
  [x, y + side],
  [x + side, y + side],
  [x + side, y],
  [x, y],
];
const turned = (ring: Pairs): Pairs => [...ring].reverse();
const POINTS = [1, 2, 3, 4].map((i) => pointContent(-93 - i / 10, 42));
const ids = (n: number) => Array.from({ length: n }, (_, i) => [` ${i + 1}`]);
const table = (n: number) => dbfFile([['ID', 'N', 2]], ids(n));
const patched = (file: FileBytes, edit: (view: DataView) => void): FileBytes => {
  const bytes = file.bytes.slice();
  edit(new DataView(bytes.buffer));
  return { name: file.name, bytes };
};
const cutTo = (file: FileBytes, n: number): FileBytes => ({
  name: file.name,
  bytes: file.bytes.subarray(0, n),
});

async function read(...files: FileBytes[]): Promise<Source> {
  const { sources, issues } = await readFiles([...files, WGS84_PRJ]);
  expect(issues).toEqual([]);
  expect(sources.length).toBe(1);
  const { read, used, repaired, setAside } = sources[0].ledger;
  expect(used + repaired + Object.values(setAside).reduce((sum, n) => sum + n, 0)).toBe(read);
  return sources[0];
}
const codes = (source: Source) => source.issues.map(({ code, severity }) => `${code} ${severity}`);

async function refused(code: string, where: string, ...files: FileBytes[]) {
  const { sources, issues } = await readFiles([...files, WGS84_PRJ]);
  expect(sources).toEqual([]);
  expect(issues).toMatchObject([{ code, severity: 'error', where }]);
  return issues[0];
}

describe('an odd shapefile', () => {
  it('S01 cut in a record keeps the whole records before the cut and counts the lost ones', async () => {
    const shp = shpFile(1, POINTS);
    const source = await read(cutTo(shp, shp.bytes.length - 10), table(4));
    expect([...source.x]).toEqual([-93.1, -93.2, -93.3]);
    expect(source.columns[0]).toMatchObject({ values: Float64Array.of(1, 2, 3) });
    expect(source.ledger).toEqual({ read: 4, used: 3, repaired: 0, setAside: { 'cut-short': 1 } });
    expect(source.issues).toMatchObject([
      {
        code: 'shp-truncated',
        severity: 'warning',
        where: 'a.shp',
        found: '3 of 4 records; 202 bytes',
        expected: '212 bytes by the header',
      },
    ]);
    await refused('shp-truncated', 'a.shp', cutTo(shp, 120), table(4));
  });

  it('S01 cut at a record’s end, without table or index, counts one lost at least', async () => {
    const shp = shpFile(1, POINTS);
    const source = await read(cutTo(shp, 184));
    expect(source.ledger).toEqual({ read: 4, used: 3, repaired: 0, setAside: { 'cut-short': 1 } });
    expect(source.issues[1].effect).toContain('at least 1');
    // The index knows of two.
    expect((await read(cutTo(shp, 156), shxFile(shp))).ledger.setAside).toEqual({ 'cut-short': 2 });
  });

  it('S01 cut at every byte is read as far as it is whole, or refused; the account closes', async () => {
    const shp = shpFile(1, POINTS);
    for (let n = 156; n < shp.bytes.length; n++) {
      const { ledger, records } = await read(cutTo(shp, n), table(4));
      expect([n, records, ledger.setAside]).toEqual([
        n,
        Math.floor((n - 100) / 28),
        { 'cut-short': 4 - records },
      ]);
    }
  });

  it.each([-5, 0, 1, 0x3fffffff, 0x7fffffff])(
    'S02 a record length of %i words is refused with its record',
    async (words) => {
      const file = patched(shpFile(1, POINTS), (view) => view.setInt32(128 + 4, words));
      await refused('shp-record-length', 'a.shp › record 2', file);
    },
  );

  it('S03 ring and point counts of billions are refused without making room for them', async () => {
    const shp = shpFile(5, [polygonContent([square(0, 0, 1)])]);
    for (const at of [144, 148]) {
      for (const count of [-1, 0x7fffffff, -0x80000000]) {
        const before = process.memoryUsage().arrayBuffers;
        await refused(
          'shp-record-length',
          'a.shp › record 1',
          patched(shp, (view) => view.setInt32(at, count, true)),
        );
        expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(2 ** 20);
      }
    }
  });

  it('S04 a null shape keeps its row, listed; attributes stay with their shapes', async () => {
    const source = await read(shpFile(1, [POINTS[0], NULL_CONTENT, POINTS[2]]), table(3));
    expect([...source.x]).toEqual([-93.1, Number.NaN, -93.3]);
    expect(source.columns[0]).toMatchObject({ values: Float64Array.of(1, 2, 3) });
    expect(source.ledger.setAside).toEqual({ 'no-geometry': 1 });
    expect(source.issues).toMatchObject([{ code: 'no-geometry', severity: 'warning', found: 'record 2' }]);
  });

  it.each([Number.NaN, -1e39, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])(
    'S05 a vertex of %f sets its record aside, record and vertex named; the others are kept',
    async (bad) => {
      const ring = square(2, 2, 1);
      ring[2] = [3, bad];
      const polygons = await read(
        shpFile(5, [polygonContent([square(0, 0, 1)]), polygonContent([ring])]),
        table(2),
      );
      expect(polygons.rings.map((rings) => rings?.length ?? null)).toEqual([1, null]);
      expect(polygons.ledger.setAside).toEqual({ 'coordinate-not-finite': 1 });
      expect(polygons.issues.find(({ code }) => code === 'coordinate-not-finite')).toMatchObject({
        severity: 'warning',
        found: 'record 2 (vertex 3)',
      });
      const points = await read(shpFile(1, [POINTS[0], pointContent(bad, 42)]), table(2));
      expect([...points.x]).toEqual([-93.1, Number.NaN]);
      expect(points.ledger).toEqual({
        read: 2,
        used: 1,
        repaired: 0,
        setAside: { 'coordinate-not-finite': 1 },
      });
      await refused(
        'coordinate-not-finite',
        'a.shp › record 1 (vertex 1)',
        shpFile(1, [pointContent(bad, 42)]),
        table(1),
      );
    },
  );

  it('S06 an index that is missing is not missed; a stale one is told and not used', async () => {
    const shp = shpFile(1, POINTS);
    expect(codes(await read(shp, table(4)))).toEqual([]);
    expect(codes(await read(shp, table(4), shxFile(shp)))).toEqual([]);
    const stale = shxFile(shpFile(1, POINTS.slice(1)));
    const source = await read(shp, table(4), stale);
    expect([codes(source), source.records]).toEqual([['shx-stale warning'], 4]);
    const moved = patched(shxFile(shp), (view) => view.setInt32(108, 51));
    expect((await read(shp, table(4), moved)).issues[0].found).toBe(
      'record 2 at byte 102 where the .shp has it at 128',
    );
  });

  it('S07 without a table the shapes are read, with a warning', async () => {
    const source = await read(shpFile(1, POINTS));
    expect([codes(source), source.columns]).toEqual([['dbf-missing warning'], []]);
  });

  it('S08 without a .shp is refused, naming what there is', async () => {
    const { sources, issues } = await readFiles([table(4), WGS84_PRJ]);
    expect(sources).toEqual([]);
    expect(issues).toMatchObject([{ code: 'shp-missing', severity: 'error', found: 'only .dbf, .prj' }]);
  });

  it('S09 Z and M are left out with a note; a multipatch is refused', async () => {
    const pointZ = new Uint8Array(36);
    pointZ.set(POINTS[0]);
    pointZ[0] = 11;
    const source = await read(shpFile(11, [pointZ]), table(1));
    expect(source).toMatchObject({ shape: 'points', records: 1, x: Float64Array.of(-93.1) });
    expect(codes(source)).toContain('shp-z-m-dropped note');
    const polygonM = polygonContent([square(0, 0, 1)], 25);
    expect((await read(shpFile(25, [polygonM]), table(1))).rings[0]?.length).toBe(1);
    expect(
      (await refused('shp-type', 'a.shp', shpFile(31, [polygonContent([square(0, 0, 1)], 31)]))).found,
    ).toBe('surfaces (multipatch)');
  });

  it('S09 of multipoints gives a point where a record has one and sets the others aside', async () => {
    const one = multipointContent([[-93.1, 42]]);
    const three = multipointContent([
      [0, 0],
      [1, 1],
      [2, 2],
    ]);
    const source = await read(shpFile(8, [one, three, NULL_CONTENT]), table(3));
    expect([...source.x]).toEqual([-93.1, Number.NaN, Number.NaN]);
    expect(source.ledger.setAside).toEqual({ 'several-points': 1, 'no-geometry': 1 });
    expect(source.issues.find(({ code }) => code === 'several-points')?.found).toBe('record 2 (3 points)');
    const none = await refused('shp-type', 'a.shp', shpFile(8, [three]), table(1));
    expect(none.found).toBe('several points in a record, as in record 1 (3 points)');
  });

  it('S10 rings that all run one way are told apart by what contains what, with both areas', async () => {
    const hole = square(0.25, 0.25, 0.5);
    for (const rings of [
      [square(0, 0, 1), hole],
      [turned(square(0, 0, 1)), turned(hole)],
    ]) {
      const source = await read(
        shpFile(5, [polygonContent(rings), polygonContent([square(5, 5, 1)])]),
        table(2),
      );
      expect(source.ledger).toEqual({ read: 2, used: 1, repaired: 1, setAside: {} });
      expect(source.issues.find(({ code }) => code === 'ring-winding')).toMatchObject({
        severity: 'warning',
        found: 'record 1 (area 1.25 by winding, 0.75 by containment)',
      });
    }
    // A hole wound against its shell is as it should be, whichever way the shell runs.
    for (const rings of [
      [square(0, 0, 1), turned(hole)],
      [turned(square(0, 0, 1)), hole],
    ]) {
      const source = await read(shpFile(5, [polygonContent(rings)]), table(1));
      expect(source.ledger).toEqual({ read: 1, used: 1, repaired: 0, setAside: {} });
    }
  });

  it('S11 a hole outside every shell becomes a shell', async () => {
    const source = await read(
      shpFile(5, [polygonContent([square(0, 0, 2), turned(square(5, 5, 1))])]),
      table(1),
    );
    expect(source.rings[0]?.length).toBe(2);
    expect(source.issues.find(({ code }) => code === 'ring-winding')?.found).toBe(
      'record 1 (area 3 by winding, 5 by containment)',
    );
    expect(source.ledger).toEqual({ read: 1, used: 0, repaired: 1, setAside: {} });
  });

  it('S12 of two types is refused with the record', async () => {
    const file = shpFile(1, [POINTS[0], polygonContent([square(0, 0, 1)])]);
    await refused('shp-mixed-types', 'a.shp › record 2', file, table(2));
  });

  it('S13 without a record is an empty layer, with a warning', async () => {
    for (const type of [1, 5]) {
      const source = await read(shpFile(type, []), table(0));
      expect([source.records, codes(source)]).toEqual([0, ['empty-layer warning']]);
    }
  });

  it('S14 with a box that is not that of its shapes is used as it is, with a warning', async () => {
    const file = patched(shpFile(1, POINTS), (view) => view.setFloat64(36, -120, true));
    expect(codes(await read(file, table(4)))).toEqual(['shp-box warning']);
  });

  it('S15 filled up with zeros to its stated end is read, with a warning', async () => {
    const shp = shpFile(1, POINTS);
    const longer = new Uint8Array(300);
    longer.set(shp.bytes);
    const file = patched({ name: 'a.shp', bytes: longer }, (view) => view.setInt32(24, 150));
    const source = await read(file, table(4));
    expect([source.records, codes(source)]).toEqual([4, ['shp-extra-bytes warning']]);
  });
});
