import { describe, expect, it } from 'vitest';
import { regionArea, ringArea } from '../../../src/engine/geometry/area.ts';
import { regionFromRecords, regionFromRings } from '../../../src/engine/geometry/region-from-rings.ts';

const ring = (...coordinates: number[]) => Float64Array.from(coordinates);
const square = (x: number, y: number, side: number) =>
  ring(x, y, x + side, y, x + side, y + side, x, y + side);
const turned = (r: Float64Array) => Float64Array.from(r, (_, i) => r[r.length - 2 - i + 2 * (i % 2)]);

const draw = (...rings: Float64Array[]) => regionFromRings(rings, 'field', { crossing: 'refuse' });
const split = (...rings: Float64Array[]) => regionFromRings(rings, 'field', { crossing: 'split' });
const codes = (drawn: ReturnType<typeof draw>) =>
  drawn.issues.map(({ code, severity }) => `${severity} ${code}`);
/** Signed areas of a region's rings: outer ones first, each with its holes. */
const areas = (drawn: ReturnType<typeof draw>) =>
  drawn.region.map(({ outer, holes }) => [ringArea(outer), ...holes.map(ringArea)]);

describe('rings as a region', () => {
  it('turns outer rings counter-clockwise and holes clockwise, whichever way they came', () => {
    const shell = square(0, 0, 10);
    const hole = square(2, 2, 3);
    for (const rings of [
      [shell, hole],
      [turned(shell), hole],
      [shell, turned(hole)],
      [turned(hole), turned(shell)],
    ]) {
      const drawn = draw(...rings);
      expect(areas(drawn)).toEqual([[100, -9]]);
      expect(drawn.changes).toEqual([]);
      expect(drawn.issues).toEqual([]);
    }
  });

  it('nests by what contains what: an island in a pond, and a second part', () => {
    const drawn = draw(square(4, 4, 2), square(0, 0, 10), square(20, 0, 5), square(3, 3, 4));
    expect(areas(drawn)).toEqual([[4], [100, -16], [25]]);
    expect(regionArea(drawn.region)).toBe(100 - 16 + 4 + 25);
  });

  it('takes out repeated vertices and spikes, counts them, and keeps vertices on a straight line', () => {
    const drawn = draw(ring(0, 0, 5, 0, 10, 0, 10, 0, 10, 10, 10, 30, 10, 10, 0, 10, 0, 0));
    expect([...drawn.region[0].outer]).toEqual([0, 0, 5, 0, 10, 0, 10, 10, 0, 10]);
    expect(drawn.changes).toEqual([
      'field: 2 repeated vertices taken out',
      'field: 1 spike taken out: 100.00 m² → 100.00 m²',
    ]);
    expect(drawn.issues).toEqual([]);
  });

  it('takes out spikes where the ring closes', () => {
    expect([...draw(ring(-5, 0, 0, 0, 10, 0, 10, 10, 0, 10, 0, 0)).region[0].outer]).toEqual([
      0, 0, 10, 0, 10, 10, 0, 10,
    ]);
  });

  it('leaves out a ring that encloses nothing, and says so', () => {
    const drawn = draw(square(0, 0, 10), ring(20, 0, 30, 0, 25, 0), ring(1, 1, 2, 2));
    expect(areas(drawn)).toEqual([[100]]);
    expect(codes(drawn)).toEqual(['warning ring-without-area', 'warning ring-without-area']);
  });

  it.each([
    ['no ring', []],
    ['a line', [ring(0, 0, 10, 10)]],
    ['a point', [ring(1, 1)]],
    ['a ring there and back', [ring(0, 0, 10, 0, 20, 0, 10, 0)]],
  ])('has an error for %s', (_, rings) => {
    const drawn = draw(...rings);
    expect(drawn.region).toEqual([]);
    expect(codes(drawn).at(-1)).toBe('error polygon-empty');
  });

  it('names the vertex that is no place', () => {
    const drawn = draw(square(0, 0, 10), ring(0, 0, 1, Number.NaN, 1, 1));
    expect(drawn.region).toEqual([]);
    expect(drawn.issues[0]).toMatchObject({ code: 'vertex-not-a-place', where: 'field › ring 2 › vertex 2' });
  });

  it('keeps a hole that touches the shell at a point or along an edge', () => {
    expect(areas(draw(square(0, 0, 10), ring(0, 5, 3, 4, 3, 6)))).toEqual([[100, -3]]);
    expect(areas(draw(square(0, 0, 10), square(0, 4, 2)))).toEqual([[100, -4]]);
    expect(draw(square(0, 0, 10), square(0, 4, 2)).issues).toEqual([]);
  });

  it('keeps parts that share an edge as they are', () => {
    const drawn = draw(square(0, 0, 10), square(10, 0, 10));
    expect(areas(drawn)).toEqual([[100], [100]]);
    expect(drawn.changes).toEqual([]);
  });

  it('keeps a boundary that reaches its hole by a cut', () => {
    const keyhole = ring(0, 0, 10, 0, 10, 10, 0, 10, 0, 5, 3, 5, 3, 7, 6, 7, 6, 3, 3, 3, 3, 5, 0, 5);
    const drawn = draw(keyhole);
    expect(drawn.issues).toEqual([]);
    expect(regionArea(drawn.region)).toBe(100 - 12);
  });
});

describe('a boundary that crosses itself', () => {
  const bowTie = ring(0, 0, 10, 10, 10, 0, 0, 10);

  it('is refused, with the vertices and the place', () => {
    const drawn = draw(bowTie);
    expect(drawn.region).toEqual([]);
    expect(drawn.issues).toMatchObject([
      {
        code: 'boundary-crosses-itself',
        severity: 'error',
        where: 'field',
        found: "the edges after vertices 1 and 3 cross at 5.00 m east, 5.00 m north of the field's centre",
      },
    ]);
  });

  it('is split on request, both lobes kept, with the areas before and after', () => {
    const drawn = split(bowTie);
    expect(areas(drawn)).toEqual([[25], [25]]);
    expect(drawn.changes).toEqual(['field: crossed itself, split into 2 rings: 0.00 m² → 50.00 m²']);
    expect(drawn.issues).toEqual([]);
  });

  it('is found where the lobes share a vertex, and not where a neck of no width only touches', () => {
    expect(codes(draw(ring(0, 0, 5, 5, 10, 10, 10, 0, 5, 5, 0, 10)))).toEqual([
      'error boundary-crosses-itself',
    ]);
    const neck = ring(0, 0, 5, 5, 10, 0, 10, 10, 5, 5, 0, 10);
    expect(draw(neck).issues).toEqual([]);
    expect(regionArea(draw(neck).region)).toBe(50);
  });

  it('is found when it goes round twice', () => {
    expect(codes(draw(ring(0, 0, 10, 0, 10, 10, 0, 10, 0, 0, 10, 0, 10, 10, 0, 10)))).toEqual([
      'error boundary-crosses-itself',
    ]);
  });
});

describe('rings that overlap', () => {
  it('joins parts wound alike', () => {
    const drawn = draw(square(0, 0, 10), square(8, 0, 10));
    expect(regionArea(drawn.region)).toBeCloseTo(180, 9);
    expect(drawn.region.length).toBe(1);
    expect(codes(drawn)).toEqual(['warning parts-overlap']);
    expect(drawn.changes).toEqual([
      'field: 2 rings that overlap in part; 2 parts joined, 0 holes cut out: 180.00 m² in all',
    ]);
  });

  it('cuts out a hole wound against the part, where it reaches over the edge', () => {
    const drawn = draw(square(0, 0, 10), turned(square(8, 2, 4)));
    expect(regionArea(drawn.region)).toBeCloseTo(100 - 8, 9);
    expect(codes(drawn)).toEqual(['warning parts-overlap']);
  });

  it('counts a repeated part once, and refuses a hole as large as its part', () => {
    expect(areas(draw(square(0, 0, 10), square(0, 0, 10)))).toEqual([[100]]);
    expect(codes(draw(square(0, 0, 10), square(0, 0, 10)))).toEqual(['warning ring-repeated']);
    expect(draw(square(0, 0, 10), turned(square(0, 0, 10))).region).toEqual([]);
    expect(codes(draw(square(0, 0, 10), turned(square(0, 0, 10))))).toEqual(['error hole-fills-part']);
  });

  it('counts a hole that missed its part as ground, and tells', () => {
    const missed = draw(square(0, 0, 10), turned(square(10, 2, 4)));
    expect(regionArea(missed.region)).toBe(100 + 16);
    expect(codes(missed)).toEqual(['warning hole-in-no-part']);
    expect(missed.issues[0]).toMatchObject({
      where: 'field › ring 2',
      found: 'a ring of 16.00 m² wound as a hole, with no part around it',
    });
    // An island in its pond is wound like the part, and a hole in the island like the pond.
    const nested = [square(0, 0, 10), turned(square(1, 1, 8)), square(2, 2, 6), turned(square(3, 3, 4))];
    expect(codes(draw(...nested))).toEqual([]);
  });

  it('leaves the lobes of a part a part, whichever way the layer is wound', () => {
    // The second part laps over the first by 2 m and crosses itself at its far end.
    const second = ring(8, 0, 20, 0, 24, 10, 24, 0, 20, 10, 8, 10);
    const drawn = split(square(0, 0, 10), second);
    for (const other of [drawn, split(turned(square(0, 0, 10)), turned(second))]) {
      expect(regionArea(other.region)).toBeCloseTo(100 + 140 - 20, 2);
      expect(codes(other)).toEqual(['warning parts-overlap']);
    }
  });

  it('leaves out a record without ground among others, and refuses when there is no other', () => {
    const options = { crossing: 'refuse' } as const;
    const sliver = ring(0, 0, 30, 0, 30, 0.001);
    const drawn = regionFromRecords([[square(0, 0, 10)], [sliver]], 'field', options);
    expect(areas(drawn)).toEqual([[100]]);
    expect(codes(drawn)).toEqual(['warning ring-without-area', 'warning polygon-empty']);
    expect(drawn.issues[1]).toMatchObject({
      where: 'field › record 2',
      effect: expect.stringContaining('left out'),
    });
    expect(drawn.changes).toEqual(['field › record 2: left out, it encloses nothing']);
    expect(codes(regionFromRecords([[sliver], [sliver]], 'field', options)).at(-1)).toBe(
      'error polygon-empty',
    );
  });

  it('joins records, and leaves a hole to its own record', () => {
    const options = { crossing: 'refuse' } as const;
    const records = [[square(0, 0, 10), square(2, 2, 4)], [square(8, 0, 10)]];
    const joined = regionFromRecords(records, 'field', options);
    expect(regionArea(joined.region)).toBeCloseTo(100 - 16 + 100 - 20, 9);
    expect(codes(joined)).toEqual(['warning parts-overlap']);
    // A record inside another record's ground is not a hole.
    expect(
      regionArea(regionFromRecords([[square(0, 0, 10)], [square(2, 2, 4)]], 'field', options).region),
    ).toBeCloseTo(100, 9);
    const beside = regionFromRecords([[square(0, 0, 10)], [square(10, 0, 10)]], 'field', options);
    expect(beside).toMatchObject({ changes: [], issues: [] });
    expect(beside.region.length).toBe(2);
  });
});

describe('a large boundary', () => {
  /** 200,000 vertices around 9,500 acres, with small waves; a `fold` pulls one vertex across its neighbours. */
  const large = (fold: boolean) => {
    const count = 200_000;
    const out = new Float64Array(2 * count);
    for (let i = 0; i < count; i++) {
      const angle = (2 * Math.PI * i) / count;
      const radius = 3500 + 20 * Math.sin(997 * angle) + 3 * Math.sin(31337 * angle);
      out[2 * i] = radius * Math.cos(angle);
      out[2 * i + 1] = radius * Math.sin(angle);
    }
    if (fold) [out[2e5], out[2e5 + 1]] = [out[2e5 + 40] + 0.3, out[2e5 + 41]];
    return out;
  };

  it('of 200,000 vertices is drawn within seconds, and its one crossing found', { timeout: 10_000 }, () => {
    const drawn = draw(large(false));
    expect(drawn.issues).toEqual([]);
    // π r², with half the squares of the waves.
    expect(Math.abs(regionArea(drawn.region) / (Math.PI * (3500 ** 2 + 200 + 4.5)) - 1)).toBeLessThan(1e-5);
    expect(codes(draw(large(true)))).toEqual(['error boundary-crosses-itself']);
  });
});
