import { describe, expect, it } from 'vitest';
import { regionArea, ringArea } from '../../src/engine/geometry/area.ts';
import { ringsOf } from '../../src/engine/geometry/clipper.ts';
import { ringLength } from '../../src/engine/geometry/length.ts';
import { overlay } from '../../src/engine/geometry/overlay.ts';
import { regionFromRings } from '../../src/engine/geometry/region-from-rings.ts';
import type { Region, Ring } from '../../src/engine/geometry/ring.ts';
import { type Random, random } from '../../src/engine/math/random.ts';
import { areaOf, difference, free, type Geometry, intersection, regionOf } from './geos.ts';

/** Shapes around a place, of a size: a star with a wavy border of many vertices, some with a star for a hole. */
function shape(chance: Random, reach_m: number, size_m: number, vertices: number): Region {
  const [x, y] = [reach_m * (chance.uniform() - 0.5), reach_m * (chance.uniform() - 0.5)];
  const star = (size: number, count: number): Ring => {
    const waves = [3, 7, 19].map((n) => ({ n, size: 0.2 * chance.uniform(), from: 6 * chance.uniform() }));
    return Float64Array.from({ length: 2 * count }, (_, k) => {
      const angle = (2 * Math.PI * Math.floor(k / 2)) / count;
      const radius = waves.reduce(
        (r, wave) => r * (1 + wave.size * Math.sin(wave.n * angle + wave.from)),
        size,
      );
      return k % 2 === 0 ? x + radius * Math.cos(angle) : y + radius * Math.sin(angle);
    });
  };
  const hole = chance.uniform() < 0.3 ? [star(size_m / 4, Math.ceil(vertices / 3))] : [];
  const { region, issues } = regionFromRings([star(size_m, vertices), ...hole], 'star', {
    crossing: 'refuse',
  });
  expect(issues).toEqual([]);
  return region;
}

/** The area of a geometry that is not needed after. */
function lastAreaOf(geometry: Geometry): number {
  const area = areaOf(geometry);
  free(geometry);
  return area;
}

/** How far an area may be off where each border is moved by up to a step of the clipper's grid. */
const room_m2 = (...regions: Region[]) =>
  1e-4 * regions.flatMap(ringsOf).reduce((sum, ring) => sum + ringLength(ring), 0);

describe('overlays of random pairs beside GEOS', () => {
  it.each([
    // A field of 400 m and soils of 100 m to 10 km around it: apart, across, within, and all around it.
    ['like in size', 200, 400, 60],
    ['of a small one and a large one', 4000, 4000, 900],
    ['of a large one and a small one', 500, 150, 40],
    ['mostly all around or apart', 3000, 3000, 2000],
  ])('%s: inside, outside and whole', (_, reach_m, size_m, vertices) => {
    const chance = random(20261127);
    let [met, missed, held] = [0, 0, 0];
    for (let k = 0; k < 150; k++) {
      const a = shape(chance, reach_m, 200, 48);
      const b = shape(chance, reach_m, size_m / 2, vertices);
      const { inside, outside } = overlay(a, b);
      const [own, other, whole] = [inside, outside, a].map(regionArea);
      expect(Math.abs(own + other - whole)).toBeLessThanOrEqual(room_m2(a));
      const [ga, gb] = [a, b].map(regionOf);
      expect(Math.abs(own - lastAreaOf(intersection(ga, gb)))).toBeLessThanOrEqual(room_m2(a));
      expect(Math.abs(other - lastAreaOf(difference(ga, gb)))).toBeLessThanOrEqual(room_m2(a));
      for (const geometry of [ga, gb]) free(geometry);
      expect(
        inside.every(({ outer, holes }) => ringArea(outer) > 0 && holes.every((hole) => ringArea(hole) < 0)),
      ).toBe(true);
      if (own === 0) missed++;
      else if (other === 0) held++;
      else met++;
    }
    // A test of pairs that never meet would show nothing.
    expect([met > 25, met + held + missed]).toEqual([true, 150]);
  });
});
