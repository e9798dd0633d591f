import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { reportSchema } from '../../src/cli/report.ts';
import { buildCli, eachacre, freshFolder, tree } from './built.ts';
import { boundaryText, geojson, layFiles, PLAN, SQUARE, yieldText } from './small-field.ts';

/*
 * Shapes as they come, through the command line. Told elsewhere: a boundary that crosses itself, of points, of lines, without area, in several records, and soils
 * beside the field (bad-input.test.ts); 0.2 ac, 10,000 ac, two UTM zones, the southern hemisphere, the equator and the antimeridian (odd-places.test.ts).
 */
let cwd = '';
beforeAll(buildCli);
beforeEach(() => {
  cwd = freshFolder();
  layFiles(cwd);
  return () => rmSync(cwd, { recursive: true, force: true });
});

type Place = readonly [number, number];

/** Place in the small field: u east and v north as shares of its sides, each about 400 m. */
const at = ([u, v]: Place): Place => [
  SQUARE.lon + (u * SQUARE.side_deg) / Math.cos((SQUARE.lat * Math.PI) / 180),
  SQUARE.lat + v * SQUARE.side_deg,
];
const outline = (...places: readonly Place[]): Place[] => closed(places);
const closed = (places: readonly Place[]): Place[] => places.concat([places[0]]).map(at);
const box = (u0: number, v0: number, u1: number, v1: number): Place[] =>
  outline([u0, v0], [u1, v0], [u1, v1], [u0, v1]);
const back = (ring: Place[]): Place[] => [...ring].reverse();
const SQUARE_AC = 39.656;
/** Soils have corners on the field's edges: a parallel of 400 m bows by 3 mm beside the straight edge, which is this share of the field. */
const BOW = 5e-6;

const putBoundary = (...polygons: readonly (readonly Place[])[][]) =>
  writeFileSync(join(cwd, 'boundary.geojson'), geojson({ type: 'MultiPolygon', coordinates: polygons }));

const putSoils = (...soils: readonly (readonly [Place[], number])[]) =>
  writeFileSync(
    join(cwd, 'soils.geojson'),
    geojson(
      ...soils.map(([ring, corn_bu], k) => ({
        type: 'Polygon',
        coordinates: [ring],
        properties: { musym: `S${k + 1}`, corn_bu },
      })),
    ),
  );

function planRefused(code: string): void {
  const before = tree(cwd);
  const planned = eachacre(PLAN, { cwd });
  expect([planned.code, planned.err]).toEqual([1, expect.stringContaining(`[${code}]`)]);
  expect(planned.err).not.toMatch(/^\s+at .*:\d+/m);
  expect(tree(cwd)).toEqual(before);
}

/** Plan and run go through, the proof holds and the cells make the field. */
function report() {
  const planned = eachacre(PLAN, { cwd });
  expect([planned.code, planned.err]).toEqual([0, expect.any(String)]);
  const ran = eachacre(['run', 'a.plan.json', '--out', 'out', '--json'], { cwd });
  expect([ran.code, ran.err]).toEqual([0, expect.any(String)]);
  const told = reportSchema.parse(JSON.parse(ran.out));
  expect(told.proof?.ok).toBe(true);
  expect(Math.abs((told.field?.cellArea_m2 ?? NaN) / (told.field?.area_m2 ?? NaN) - 1)).toBeLessThan(1e-9);
  return told;
}

const codes = ({ issues }: { issues: readonly { code: string }[] }) => issues.map(({ code }) => code);

describe('a boundary', () => {
  it('B02 with repeated vertices, a spike of 400 m and vertices on a straight line: mended, and every change listed', () => {
    const ring = outline([0, 0], [0.5, 0], [0.5, 0], [1, 0], [2, 0], [1, 0], [1, 1], [0, 1]);
    putBoundary([ring]);
    const { field } = report();
    expect(field?.acres).toBeCloseTo(SQUARE_AC, 2);
    expect(field?.changes.join('; ')).toMatch(/repeated vert.*taken out.*1 spike taken out/);
  });

  it('B03 with a part that encloses nothing: left out with a warning', () => {
    putBoundary([box(0, 0, 1, 1)], [outline([2, 0], [2.5, 0], [3, 0])]);
    const told = report();
    expect(told.field?.acres).toBeCloseTo(SQUARE_AC, 2);
    expect([told.field?.parts, codes(told)]).toEqual([1, expect.arrayContaining(['ring-without-area'])]);
  });

  it('B03 with a sliver of a part, 5 cm wide: it is ground, and no area is lost', () => {
    putBoundary([box(0, 0, 1, 1)], [box(1.001, 0, 1.001 + 0.05 / 400, 1)]);
    const { field } = report();
    expect(field?.parts).toBe(2);
    // 400 m by 5 cm is 20 m², 0.005 ac.
    expect((field?.acres ?? NaN) - SQUARE_AC).toBeGreaterThan(0.004);
    expect((field?.acres ?? NaN) - SQUARE_AC).toBeLessThan(0.006);
  });

  it.each([
    ['at a point', outline([0, 0.5], [0.2, 0.4], [0.2, 0.6]), 0.02],
    ['along an edge', box(0, 0.4, 0.2, 0.6), 0.04],
  ])('B04 with a hole that touches it %s: kept as it is', (_, hole, share) => {
    putBoundary([box(0, 0, 1, 1), back(hole)]);
    const told = report();
    expect((told.field?.acres ?? NaN) / SQUARE_AC).toBeCloseTo(1 - share, 4);
    expect(codes(told)).not.toContain('parts-overlap');
  });

  it('B05 with a hole as large as itself: refused', () => {
    putBoundary([box(0, 0, 1, 1), back(box(0, 0, 1, 1))]);
    planRefused('hole-fills-part');
  });

  it('B06 of two parts that overlap: joined, the overlap counted once, with a warning', () => {
    putBoundary([box(0, 0, 0.6, 1)], [box(0.4, 0, 1, 1)]);
    const told = report();
    expect(told.field?.acres).toBeCloseTo(SQUARE_AC, 2);
    expect([told.field?.parts, codes(told)]).toEqual([1, expect.arrayContaining(['parts-overlap'])]);
  });

  it('B06 of two records, one within the other: joined, and no hole is made of it', () => {
    writeFileSync(
      join(cwd, 'boundary.geojson'),
      geojson(
        { type: 'Polygon', coordinates: [box(0, 0, 1, 1)] },
        { type: 'Polygon', coordinates: [box(0.2, 0.2, 0.6, 0.6)] },
      ),
    );
    const told = report();
    expect(told.field?.acres).toBeCloseTo(SQUARE_AC, 2);
    expect(codes(told)).toContain('parts-overlap');
  });

  it('B06 of one part within another: a hole of it, whatever its winding', () => {
    for (const inner of [box(0.2, 0.2, 0.6, 0.6), back(box(0.2, 0.2, 0.6, 0.6))]) {
      putBoundary([box(0, 0, 1, 1)], [inner]);
      rmSync(join(cwd, 'out'), { recursive: true, force: true });
      rmSync(join(cwd, 'a.plan.json'), { force: true });
      expect((report().field?.acres ?? NaN) / SQUARE_AC).toBeCloseTo(1 - 0.16, 4);
    }
  });
});

describe('soils', () => {
  it('B01 of which one crosses itself: split, both lobes served', () => {
    putSoils(
      [outline([0, 0], [1, 1], [1, 0], [0, 1]), 150],
      [outline([0, 0], [1, 0], [0.5, 0.5]), 200],
      [outline([0, 1], [0.5, 0.5], [1, 1]), 200],
    );
    const { soils, field } = report();
    expect(Math.abs((soils?.coveredAcres ?? NaN) / (field?.acres ?? NaN) - 1)).toBeLessThan(BOW);
    const acres = soils?.mapUnits.map((unit) => unit.acres) ?? [];
    expect(acres[0] / SQUARE_AC).toBeCloseTo(0.5, 3);
  });

  it('B03 with slivers between them: each its own acres, and no area lost', () => {
    const thin = 0.05 / 400;
    putSoils([box(0, 0, 0.5, 1), 150], [box(0.5, 0, 0.5 + thin, 1), 90], [box(0.5 + thin, 0, 1, 1), 200]);
    const { soils, field } = report();
    expect(soils?.mapUnits.length).toBe(3);
    expect(Math.abs((soils?.coveredAcres ?? NaN) / (field?.acres ?? NaN) - 1)).toBeLessThan(BOW);
  });

  it('B07 that overlap: told with the share, and the value there is their mean by area', () => {
    // By soils alone: the middle half of the field is both 100 and 200.
    putSoils([box(0, 0, 0.75, 1), 100], [box(0.25, 0, 1, 1), 200]);
    const planned = eachacre(
      PLAN.filter((word, k) => word !== '--yield' && PLAN[k - 1] !== '--yield'),
      { cwd },
    );
    expect(planned.code).toBe(0);
    const ran = eachacre(['run', 'a.plan.json', '--out', 'out', '--json'], { cwd });
    const told = reportSchema.parse(JSON.parse(ran.out));
    const overlap = told.issues.find(({ code }) => code === 'soils-overlap');
    expect(overlap).toMatchObject({
      severity: 'warning',
      found: '50.0 % more soil than field',
      effect: 'Where they overlap, values are averaged by area',
    });
    const surface = told.surfaces.find(({ kind }) => kind === 'soil');
    // 0.25 · 100 + 0.5 · 150 + 0.25 · 200; cells on the borders hold both.
    expect(surface?.mean).toBeCloseTo(150, 6);
    expect([surface?.min, surface?.max]).toEqual([expect.closeTo(100, 9), expect.closeTo(200, 9)]);
  });

  it('B08 with a gap: told with its acres, and ground without a soil is not known to them', () => {
    putSoils([box(0, 0, 0.4, 1), 100], [box(0.6, 0, 1, 1), 200]);
    const told = report();
    expect(told.issues.find(({ code }) => code === 'soils-gap')).toMatchObject({
      severity: 'warning',
      found: expect.stringMatching(/^soils over 31\.7\d\d of 39\.6\d\d ac$/),
    });
    const surface = told.surfaces.find(({ kind }) => kind === 'soil');
    expect(surface?.share).toBeGreaterThan(0.75);
    expect(surface?.share).toBeLessThan(0.85);
  });

  it('B09 whose borders run nearly along each other and the field’s: in good time, and no area lost', () => {
    const wave = (i: number, off: number): Place => [0.5 + 1e-9 * off + 0.001 * Math.sin(i), i / 100];
    const border = (off: number) => Array.from({ length: 101 }, (_, i) => wave(i, off));
    putSoils(
      [outline([0, 0], ...border(0), [0, 1]), 150],
      [outline(...border(1), [1 + 1e-9, 1], [1 + 1e-9, 0]), 200],
    );
    const { soils, field } = report();
    expect(Math.abs((soils?.coveredAcres ?? NaN) / (field?.acres ?? NaN) - 1)).toBeLessThan(BOW);
  });

  it.each([
    ['points', 'Point', at([0.5, 0.5])],
    ['lines', 'LineString', box(0, 0, 1, 1)],
  ])('B16 that are %s: refused', (_, type, coordinates) => {
    writeFileSync(
      join(cwd, 'soils.geojson'),
      geojson({ type, coordinates, properties: { musym: 'A', corn_bu: 150 } }),
    );
    const planned = eachacre(PLAN, { cwd });
    expect([planned.code, planned.err]).toEqual([1, expect.stringMatching(/^error: .*\[[a-z-]+\]$/m)]);
  });

  it('B15 of which only the corner of a line touches the field: refused', () => {
    putSoils([box(1, 1, 2, 2), 150], [box(-1, 1, 0, 2), 200]);
    expect(eachacre(PLAN, { cwd }).code).toBe(0);
    const ran = eachacre(['run', 'a.plan.json', '--out', 'out'], { cwd });
    expect([ran.code, ran.err]).toEqual([1, expect.stringContaining('[soils-outside-field]')]);
  });
});

it('the square these shapes are drawn in has the acres they are measured by', () => {
  writeFileSync(join(cwd, 'boundary.geojson'), boundaryText());
  writeFileSync(join(cwd, 'yield-2025.csv'), yieldText());
  expect(report().field?.acres).toBeCloseTo(SQUARE_AC, 3);
});
