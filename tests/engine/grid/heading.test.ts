import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { longestSideHeading } from '../../../src/engine/grid/heading.ts';
import { turnBack, turnRegion, turnTo } from '../../../src/engine/grid/turn.ts';
import { box, region } from './shapes.ts';

/** The difference of two headings as lines, 0 to 90 degrees. */
const apart = (a: number, b: number) => Math.abs(((a - b + 270) % 180) - 90);

describe('heading of the longest side', () => {
  it('is 0 for a field longest from south to north, 90 from west to east', () => {
    expect(apart(longestSideHeading(region(box(0, 0, 400, 800))), 0)).toBeLessThan(1e-9);
    expect(apart(longestSideHeading(region(box(0, 0, 800, 400))), 90)).toBeLessThan(1e-9);
  });

  it('counts clockwise from north: a side to the north-east is 45', () => {
    expect(longestSideHeading(region([0, 0, 300, 300, 280, 320, -20, 20]))).toBeCloseTo(45, 9);
  });

  it('adds up a side drawn with many vertices', () => {
    // South side of 900 m in thirty pieces that waver by centimetres; one straight west side of 500 m.
    const south = Array.from({ length: 31 }, (_, i) => [30 * i, i % 2 ? 0.05 : 0]).flat();
    expect(apart(longestSideHeading(region([...south, 500, 500, 0, 500])), 90)).toBeLessThan(0.2);
  });

  it('looks at the outer border alone', () => {
    expect(
      apart(longestSideHeading(region(box(0, 0, 100, 300), [20, 20, 40, 20, 40, 290, 20, 290])), 0),
    ).toBeLessThan(1e-9);
  });

  it('turns with the field', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 179.999, noNaN: true }), (heading) => {
        const field = turnRegion(turnBack(turnTo(heading)), region(box(-30, -70, 60, 140)));
        const found = longestSideHeading(field);
        return apart(found, heading) < 1e-6 && found >= 0 && found < 180;
      }),
      { seed: 4, numRuns: 500 },
    );
  });
});

describe('turned axes', () => {
  it('have v along the heading and u to its right', () => {
    // Heading east: a step east is a step along v, a step north one against u.
    const turned = turnRegion(turnTo(90), [{ outer: Float64Array.of(1, 0, 0, 1, 0, 0), holes: [] }]);
    expect(Array.from(turned[0].outer)).toEqual([0, 1, -1, 0, 0, 0]);
  });

  it('come back to where they were', () => {
    const turn = turnTo(33);
    const field = region(box(3, 4, 5, 6), box(4, 5, 1, 1));
    const back = turnRegion(turnBack(turn), turnRegion(turn, field));
    back.forEach((polygon, k) => {
      for (const [i, ring] of [polygon.outer, ...polygon.holes].entries()) {
        const own = [field[k].outer, ...field[k].holes][i];
        ring.forEach((value, j) => {
          expect(value).toBeCloseTo(own[j], 12);
        });
      }
    });
  });
});
