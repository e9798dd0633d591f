import { area as turfArea } from '@turf/turf';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { regionArea } from '../../../src/engine/geometry/area.ts';
import { difference, intersection, overlay, union } from '../../../src/engine/geometry/overlay.ts';
import { regionFromRings } from '../../../src/engine/geometry/region-from-rings.ts';
import type { Region } from '../../../src/engine/geometry/ring.ts';
import { Refusal } from '../../../src/engine/issue.ts';

const region = (...rings: number[][]): Region => {
  const drawn = regionFromRings(
    rings.map((ring) => Float64Array.from(ring)),
    'test',
    { crossing: 'split' },
  );
  expect(drawn.issues.filter(({ severity }) => severity === 'error')).toEqual([]);
  return drawn.region;
};
const box = (x: number, y: number, width: number, height: number) => [
  x,
  y,
  x + width,
  y,
  x + width,
  y + height,
  x,
  y + height,
];

describe('regions laid over each other', () => {
  it('halves a square with a hole', () => {
    const field = region(box(0, 0, 10, 10), box(4, 4, 2, 2));
    const west = region(box(-5, -5, 10, 20));
    expect(regionArea(intersection(field, west))).toBe(48);
    expect(regionArea(difference(field, west))).toBe(48);
    expect(regionArea(union([field, west]))).toBe(248);
  });

  it('gives nothing inside and all outside for regions apart, with the coordinates as they were', () => {
    const field = region(box(0.123456789, 0, 10, 10));
    expect(overlay(field, region(box(20, 0, 5, 5)))).toEqual({ inside: [], outside: field });
    expect(overlay(field, [])).toEqual({ inside: [], outside: field });
    expect(overlay([], field)).toEqual({ inside: [], outside: [] });
  });

  it('keeps an island inside a hole', () => {
    const field = region(box(0, 0, 20, 20), box(4, 4, 12, 12), box(8, 8, 4, 4));
    const inside = intersection(field, region(box(-1, -1, 30, 30)));
    expect(regionArea(inside)).toBe(400 - 144 + 16);
    expect(inside.map(({ holes }) => holes.length).sort()).toEqual([0, 1]);
  });

  it('refuses what is not finite or far away, and does not hang on it', () => {
    const bad = [{ outer: Float64Array.of(0, 0, Number.NaN, 0, 1, 1), holes: [] }];
    const far = [{ outer: Float64Array.of(0, 0, 4e9, 0, 1, 1), holes: [] }];
    for (const wrong of [bad, far]) {
      expect(() => intersection(region(box(0, 0, 1, 1)), wrong)).toThrow(Refusal);
      expect(() => union([wrong])).toThrow(Refusal);
    }
  });

  it('refuses a region that does not add up: one counted twice', () => {
    const twice = [...region(box(0, 0, 10, 10)), ...region(box(0, 0, 10, 10))];
    expect(() => overlay(twice, region(box(5, -5, 20, 20)))).toThrow(/overlay/);
  });
});

describe('whatever the shapes', () => {
  /** A star with a wavy border: it never crosses itself. */
  const star = fc
    .record({
      x: fc.double({ min: -50, max: 50, noNaN: true }),
      y: fc.double({ min: -50, max: 50, noNaN: true }),
      radii: fc.array(fc.double({ min: 5, max: 80, noNaN: true }), { minLength: 3, maxLength: 24 }),
    })
    .map(({ x, y, radii }) =>
      region(
        radii.flatMap((radius, i) => {
          const angle = (2 * Math.PI * i) / radii.length;
          return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
        }),
      ),
    );
  // Each border, some 500 m at most, moves by at most the grid: 0.05 m².
  const TOLERANCE_M2 = 0.1;
  const close = (a: number, b: number) => Math.abs(a - b) <= TOLERANCE_M2;

  it('inside and outside make the whole, and the order does not matter', () => {
    fc.assert(
      fc.property(star, star, (a, b) => {
        const { inside, outside } = overlay(a, b);
        const other = overlay(b, a);
        return (
          close(regionArea(inside) + regionArea(outside), regionArea(a)) &&
          close(regionArea(inside), regionArea(other.inside)) &&
          close(regionArea(union([a, b])), regionArea(a) + regionArea(other.outside))
        );
      }),
      { seed: 5, numRuns: 300 },
    );
  });

  it('what is inside is outside no more', () => {
    fc.assert(
      fc.property(star, star, (a, b) => close(regionArea(difference(intersection(a, b), b)), 0)),
      { seed: 6, numRuns: 200 },
    );
  });

  it('a region over itself is itself', () => {
    fc.assert(
      fc.property(
        star,
        (a) => close(regionArea(intersection(a, a)), regionArea(a)) && regionArea(difference(a, a)) === 0,
      ),
      { seed: 7, numRuns: 200 },
    );
  });
});

describe('what clippers break on', () => {
  /** A strip along a wavy line, as a soil border follows a field's: `shift` metres off, `width` wide. */
  const strip = (shift: number, width: number) => {
    const along = Array.from({ length: 200 }, (_, i) => [i * 4, 3 * Math.sin(i / 7) + shift]);
    const back = along.map(([x, y]) => [x + shift / 3, y + width]).reverse();
    return region([...along, ...back].flat());
  };

  it.each([0, 1e-9, 1e-6, 3e-5, 1e-4, 1e-3, 0.05])(
    'lays nearly coincident strips, %s m apart, in under a second',
    { timeout: 1000 },
    (shift) => {
      const a = strip(0, 0.5);
      const { inside, outside } = overlay(a, strip(shift, 0.5));
      // What the shift can lay bare: shift × length, along and across, and the grid of 1e-4 m along 1,600 m of border.
      expect(regionArea(outside)).toBeLessThanOrEqual(shift * 800 * 1.5 + 0.16);
      expect(regionArea(inside) + regionArea(outside)).toBeCloseTo(regionArea(a), 0);
    },
  );

  it('overlays 10,000 tiles with a field and loses none of it', { timeout: 10_000 }, () => {
    const tiles: number[][] = [];
    for (let row = 0; row < 100; row++)
      for (let col = 0; col < 100; col++) tiles.push(box(col * 10, row * 10, 10, 10));
    const grid: Region = tiles.map((tile) => ({ outer: Float64Array.from(tile), holes: [] }));
    const field = region([3.3, 5, 990, 17, 970, 985, 400, 700, 12, 940]);
    expect(regionArea(intersection(grid, field))).toBeCloseTo(regionArea(field), 0);
  });

  it('agrees with the areas of a general library on a small patch of the equator', () => {
    const lonLat = (ring: number[]) => {
      const points = Array.from({ length: ring.length / 2 }, (_, i) => [
        ring[2 * i] * 1e-5,
        ring[2 * i + 1] * 1e-5,
      ]);
      return turfArea({ type: 'Polygon', coordinates: [[...points, points[0]]] });
    };
    const field = [0, 0, 100, 10, 90, 80, 20, 95];
    const half = [0, 0, 100, 10, 90, 80];
    const share = regionArea(intersection(region(field), region(half))) / regionArea(region(field));
    // A hundred metres of sphere are a plane to 1e-10.
    expect(share).toBeCloseTo(lonLat(half) / lonLat(field), 6);
  });
});
