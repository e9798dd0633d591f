import { describe, expect, it } from 'vitest';
import { ringToFrame } from '../../src/engine/geodesy/field-frame.ts';
import { frameAround } from '../../src/engine/geodesy/frame-around.ts';
import { regionArea, ringArea } from '../../src/engine/geometry/area.ts';
import { ringLength } from '../../src/engine/geometry/length.ts';
import { overlay, union } from '../../src/engine/geometry/overlay.ts';
import { regionFromRecords } from '../../src/engine/geometry/region-from-rings.ts';
import type { Ring } from '../../src/engine/geometry/ring.ts';
import * as geos from './geos.ts';
import { HARD_OVERLAYS } from './hard-overlays.ts';

type Polygons = readonly (readonly Ring[])[];

const parse = (text: string): Polygons =>
  text.split('|').map((polygon) =>
    polygon.split(';').map((ring) =>
      Float64Array.from(
        ring
          .trim()
          .split(/[\s,]+/)
          .map(Number),
      ),
    ),
  );

/** Both in metres about a place near the first: of degrees in a field frame, of others from a whole number of units. */
function placed(unit: 'degrees' | number, a: Polygons, b: Polygons): [Polygons, Polygons] {
  const each = (change: (ring: Ring) => Ring): [Polygons, Polygons] => {
    const changed = (polygons: Polygons) => polygons.map((rings) => rings.map(change));
    return [changed(a), changed(b)];
  };
  if (unit === 'degrees') {
    const frame = frameAround([...a.flat(), ...b.flat()]);
    return each((ring) => ringToFrame(frame, ring));
  }
  const [x, y] = a[0][0].subarray(0, 2).map(Math.round);
  return each((ring) => ring.map((value, k) => unit * (value - (k % 2 === 0 ? x : y))));
}

/** What a ring encloses, even-odd, for GEOS: of one it calls invalid, the triangles from its first vertex to each edge, laid over each other by symmetric difference. */
function enclosed(ring: Ring): geos.Geometry {
  const whole = geos.polygonOf([ring]);
  if (geos.isValid(whole)) return whole;
  const triangles: geos.Geometry[] = [];
  for (let k = 2; k + 3 < ring.length; k += 2) {
    const triangle = Float64Array.of(...ring.subarray(0, 2), ...ring.subarray(k, k + 4));
    if (ringArea(triangle) !== 0) triangles.push(geos.polygonOf([triangle]));
  }
  return triangles.reduce(geos.symmetricDifference);
}

/** Polygons for GEOS: valid ones as they are, of others the holes cut out of what the first ring encloses. */
function forGeos(polygons: Polygons): geos.Geometry {
  return polygons
    .map((rings) => {
      const polygon = geos.polygonOf(rings);
      return geos.isValid(polygon) ? polygon : rings.map(enclosed).reduce(geos.difference);
    })
    .reduce(geos.union);
}

const lengthOf = (polygons: Polygons) => polygons.flat().reduce((sum, ring) => sum + ringLength(ring), 0);

describe('pairs that broke overlays elsewhere, beside GEOS', () => {
  const whole = HARD_OVERLAYS.filter(({ sliver }) => !sliver);

  it.each(whole)('$source', ({ unit, a: textA, b: textB }) => {
    const [rawA, rawB] = placed(unit, parse(textA), parse(textB));
    const [drawnA, drawnB] = [rawA, rawB].map((raw) => regionFromRecords(raw, 'pair', { crossing: 'split' }));
    const [a, b] = [drawnA.region, drawnB.region];
    const [ga, gb] = [forGeos(rawA), forGeos(rawB)];
    // Each border is moved by up to a step of the grid of 1e-4 m; a lobe under 0.01 m² is no ground and left out.
    const room_m2 = 1e-4 * (lengthOf(rawA) + lengthOf(rawB));
    const near = (own_m2: number, theirs: geos.Geometry) =>
      expect(Math.abs(own_m2 - geos.areaOf(theirs))).toBeLessThanOrEqual(room_m2);
    near(regionArea(a), ga);
    near(regionArea(b), gb);
    for (const [one, other, g1, g2] of [
      [a, b, ga, gb],
      [b, a, gb, ga],
    ] as const) {
      const { inside, outside } = overlay(one, other);
      near(regionArea(inside), geos.intersection(g1, g2));
      near(regionArea(outside), geos.difference(g1, g2));
      const wound = [...inside, ...outside].every(
        ({ outer, holes }) => ringArea(outer) > 0 && holes.every((hole) => ringArea(hole) < 0),
      );
      expect(wound).toBe(true);
    }
    near(regionArea(union([a, b])), geos.union(ga, gb));
  });

  it.each(HARD_OVERLAYS.filter(({ sliver }) => sliver))('$source: no ground', ({ unit, a: text, b }) => {
    const [raw] = placed(unit, parse(text), parse(b));
    const { region, issues } = regionFromRecords(raw, 'sliver', { crossing: 'split' });
    expect([region.length, issues.at(-1)?.code]).toEqual([0, 'polygon-empty']);
    // Narrower on the whole than 1 cm, or smaller than 0.01 m², by the area GEOS gives it.
    const area_m2 = geos.areaOf(forGeos(raw));
    expect(area_m2 < 0.01 || (2 * area_m2) / lengthOf(raw) < 0.01).toBe(true);
  });

  it('hold some that came invalid', () => {
    const invalid = whole.filter(({ a, b }) =>
      [...parse(a), ...parse(b)].some((rings) => !geos.isValid(geos.polygonOf(rings))),
    );
    expect(invalid.length).toBeGreaterThan(10);
  });
});
