import fc from 'fast-check';
import { regionFromRings } from '../../../src/engine/geometry/region-from-rings.ts';
import type { Region } from '../../../src/engine/geometry/ring.ts';

/** A region from rings of x, y pairs, in any order and winding. */
export function region(...rings: readonly (readonly number[])[]): Region {
  const drawn = regionFromRings(
    rings.map((ring) => Float64Array.from(ring)),
    'test',
    { crossing: 'split' },
  );
  const wrong = drawn.issues.find(({ severity }) => severity === 'error');
  if (wrong) throw new Error(wrong.found);
  return drawn.region;
}

/** An upright box. */
export function box(x: number, y: number, width: number, height: number): number[] {
  return [x, y, x + width, y, x + width, y + height, x, y + height];
}

/** A ring of a wavy border about a point; with radii over half the largest it holds a circle of that radius. */
function star(x: number, y: number, radii: readonly number[]): number[] {
  return radii.flatMap((radius, i) => {
    const angle = (2 * Math.PI * i) / radii.length;
    return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
  });
}

/** Fields with a wavy border, a hole in the middle of most, a second part beside some; up to some 400 m across. */
export const anyField: fc.Arbitrary<Region> = fc
  .record({
    x: fc.double({ min: -3000, max: 3000, noNaN: true }),
    y: fc.double({ min: -3000, max: 3000, noNaN: true }),
    radii: fc.array(fc.double({ min: 60, max: 200, noNaN: true }), { minLength: 8, maxLength: 30 }),
    hole: fc.array(fc.double({ min: 2, max: 40, noNaN: true }), { minLength: 8, maxLength: 16 }),
    holed: fc.boolean(),
    parted: fc.boolean(),
  })
  .map(({ x, y, radii, hole, holed, parted }) =>
    region(
      star(x, y, radii),
      ...(holed ? [star(x, y, hole)] : []),
      ...(parted ? [star(x + 450, y - 30, [...radii].reverse())] : []),
    ),
  );
