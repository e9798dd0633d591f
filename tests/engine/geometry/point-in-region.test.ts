import { describe, expect, it } from 'vitest';
import { regionArea } from '../../../src/engine/geometry/area.ts';
import { regionLocator } from '../../../src/engine/geometry/point-in-region.ts';
import { pointInRing } from '../../../src/engine/geometry/point-in-ring.ts';
import { regionFromRings } from '../../../src/engine/geometry/region-from-rings.ts';
import { random } from '../../../src/engine/math/random.ts';

const square = (x: number, y: number, side: number) =>
  Float64Array.of(x, y, x + side, y, x + side, y + side, x, y + side);

describe('points in a region', () => {
  it('finds field, hole and island', () => {
    const { region } = regionFromRings([square(0, 0, 10), square(2, 2, 6), square(4, 4, 2)], 'field', {
      crossing: 'refuse',
    });
    const inside = regionLocator(region);
    const rows = [9, 7, 5, 3, 1].map((y) =>
      [-1, 1, 3, 5, 7, 9, 11].map((x) => (inside(x, y) ? '#' : '.')).join(''),
    );
    expect(rows).toEqual(['.#####.', '.#...#.', '.#.#.#.', '.#...#.', '.#####.']);
  });

  it('has nothing inside no region, and no place for what is not finite', () => {
    expect(regionLocator([])(0, 0)).toBe(false);
    const inside = regionLocator([{ outer: square(0, 0, 1), holes: [] }]);
    expect([inside(Number.NaN, 0.5), inside(0.5, Number.POSITIVE_INFINITY)]).toEqual([false, false]);
  });

  it('answers as the plain count of crossings does, and with the right share of hits', () => {
    const { uniform } = random(11);
    const ring = new Float64Array(2000);
    for (let i = 0; i < 1000; i++) {
      const radius = 60 + 40 * uniform();
      ring[2 * i] = radius * Math.cos((i * Math.PI) / 500);
      ring[2 * i + 1] = radius * Math.sin((i * Math.PI) / 500);
    }
    const inside = regionLocator([{ outer: ring, holes: [] }]);
    let hits = 0;
    for (let i = 0; i < 20000; i++) {
      const [x, y] = [200 * uniform() - 100, 200 * uniform() - 100];
      expect(inside(x, y)).toBe(pointInRing(ring, x, y));
      if (inside(x, y)) hits++;
    }
    // Three standard errors of the share.
    const share = regionArea([{ outer: ring, holes: [] }]) / 40000;
    expect(Math.abs(hits / 20000 - share)).toBeLessThan(3 * Math.sqrt((share * (1 - share)) / 20000));
  });
});
