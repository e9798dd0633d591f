import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  agronomicOptimum,
  type Curve,
  curveDoubt,
  economicOptimum,
  slopeAt,
  yieldAt,
} from '../../../src/engine/response/curve.ts';
import { FAMILIES } from '../../../src/engine/response/families.ts';
import type { FamilyId } from '../../../src/engine/response/family.ts';
import { natural } from './natural.ts';

const ids = Object.keys(FAMILIES) as FamilyId[];
const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
/** Bends that each family may have, corn or soybean, by 1000 plants. */
const bends: Readonly<Record<FamilyId, readonly [number, number]>> = {
  quadratic: [5e-4, 0.5],
  'quadratic-plateau': [5e-4, 0.5],
  'linear-plateau': [0.05, 8],
  'density-decay': [NaN, NaN],
  'parabolic-reciprocal': [0.02, 8],
  mitscherlich: [0, 20],
  holliday: [NaN, NaN],
  line: [-3, 3],
};
const curveOf = (family: FamilyId) =>
  fc.record({
    family: fc.constant(family),
    level: between(5, 300),
    stand: between(3, 200),
    bend: Number.isNaN(bends[family][0]) ? fc.constant(NaN) : between(...bends[family]),
  });
const anyCurve: fc.Arbitrary<Curve> = fc.oneof(...ids.map(curveOf));
const runs = { seed: 4, numRuns: 4000 };

describe('every family', () => {
  it('has the slope that small steps show, but at its joint', () => {
    fc.assert(
      fc.property(anyCurve, between(0.5, 300), (curve, p) => {
        if (Math.abs(p - curve.stand) < 1e-2) return;
        const step = 1e-4 * p;
        if (curve.family.endsWith('plateau') && Math.abs(p - curve.stand) <= step) return;
        const shown = (yieldAt(curve, p + step) - yieldAt(curve, p - step)) / (2 * step);
        // Two roundings of some 300 bu over two steps, and the third derivative.
        expect(Math.abs(slopeAt(curve, p) - shown)).toBeLessThan(1e-5 * (1 + Math.abs(shown)));
      }),
      runs,
    );
  });

  it('earns nowhere more than at its economic optimum, and yields nowhere more than at its agronomic one', () => {
    fc.assert(
      fc.property(anyCurve, between(1e-4, 12), between(0, 500), (curve, r, other) => {
        const margin = (p: number) => yieldAt(curve, p) - r * p;
        const best = economicOptimum(curve, r);
        if (best === Infinity) expect(slopeAt(curve, other)).toBeGreaterThanOrEqual(r);
        else expect(margin(best)).toBeGreaterThanOrEqual(margin(other) - 1e-9 * curve.level);
        const top = agronomicOptimum(curve);
        const highest = top === Infinity ? yieldAt(curve, 1e9) : yieldAt(curve, top);
        expect(highest).toBeGreaterThanOrEqual(yieldAt(curve, other) - 1e-9 * curve.level);
        expect(best).toBeLessThanOrEqual(top);
      }),
      runs,
    );
  });

  it('wants no plants when they cost more than the first one brings, and the best stand when they cost nothing', () => {
    fc.assert(
      fc.property(anyCurve, (curve) => {
        expect(economicOptimum(curve, Infinity)).toBe(0);
        expect(economicOptimum(curve, 0)).toBe(agronomicOptimum(curve));
        const first = slopeAt(curve, 0);
        if (first > 0 && first < 1e6) expect(economicOptimum(curve, 1.0001 * first)).toBe(0);
      }),
      runs,
    );
  });

  it('cannot be asked for a negative price, nor for a price that is no number', () => {
    for (const family of ids) {
      const curve: Curve = { family, level: 200, stand: 30, bend: 0.1 };
      expect(economicOptimum(curve, -1)).toBeNaN();
      expect(economicOptimum(curve, NaN)).toBeNaN();
    }
  });
});

describe('figures of which no best stand follows', () => {
  const convex: Curve = { family: 'quadratic', level: 150, stand: 25, bend: -0.1 };
  it.each([
    convex,
    { ...convex, bend: 0 },
    { ...convex, family: 'quadratic-plateau' as const },
    { ...convex, family: 'linear-plateau' as const },
    { family: 'parabolic-reciprocal' as const, level: 150, stand: 25, bend: -1 },
    { family: 'density-decay' as const, level: 150, stand: -25, bend: NaN },
    { family: 'mitscherlich' as const, level: 150, stand: 5, bend: -20 },
    { family: 'holliday' as const, level: -3, stand: 25, bend: NaN },
  ])('are said to have none: $family, bend $bend', (curve) => {
    expect(curveDoubt(curve)).toMatch(/yield/);
    expect(agronomicOptimum(curve)).toBeNaN();
    expect(economicOptimum(curve, 1)).toBeNaN();
  });
});

describe('a quadratic and its plateau', () => {
  // Top of 100 at 20 thousand.
  const quadratic = natural(60, 4, 0.1);
  const plateau: Curve = { ...quadratic, family: 'quadratic-plateau' };

  it('rise alike to the top and part there: one falls, the other stays', () => {
    for (const stand of [0, 5, 12.5, 20])
      expect(yieldAt(plateau, stand)).toBeCloseTo(yieldAt(quadratic, stand), 12);
    expect(yieldAt(quadratic, 20)).toBe(100);
    expect(yieldAt(quadratic, 30)).toBeCloseTo(90, 12);
    expect([yieldAt(plateau, 30), yieldAt(plateau, 1e6)]).toEqual([100, 100]);
  });

  it('pay best a little under the top, by half the price of a thousand plants over c', () => {
    for (const curve of [quadratic, plateau]) {
      expect(agronomicOptimum(curve)).toBe(20);
      expect(economicOptimum(curve, 1)).toBe(15);
      expect(economicOptimum(curve, 4)).toBe(0);
      expect(economicOptimum(curve, 40)).toBe(0);
    }
  });
});

describe('a straight line with a plateau', () => {
  it('is planted to its joint or not at all', () => {
    const curve: Curve = { family: 'linear-plateau', level: 200, stand: 30, bend: 2 };
    expect([0.5, 1.9, 2, 3].map((r) => economicOptimum(curve, r))).toEqual([30, 30, 0, 0]);
  });
});
