import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  agronomicOptimum,
  type Curve,
  curveDoubt,
  economicOptimum,
  lastToPay,
  slopeAt,
  yieldAt,
} from '../../../src/engine/response/curve.ts';
import { FAMILIES } from '../../../src/engine/response/families.ts';
import type { FamilyId } from '../../../src/engine/response/family.ts';
import { anyCurveOf, evenly } from './any-curve.ts';
import { natural } from './natural.ts';

const ids = Object.keys(FAMILIES) as FamilyId[];
const anyCurve: fc.Arbitrary<Curve> = fc.oneof(...ids.map((family) => anyCurveOf(family)));
const runs = { seed: 4, numRuns: 4000 };

/** The stand under `end` that earns most: the best of a grid, closer where stands are thin, then by golden section about it. */
function goldenSection(margin: (p: number) => number, end: number): number {
  const cells = 3000;
  const at = (k: number) => end * (Math.min(cells, Math.max(0, k)) / cells) ** 2;
  let top = 0;
  for (let k = 1; k <= cells; k++) if (margin(at(k)) > margin(at(top))) top = k;
  let [low, high] = [at(top - 1), at(top + 1)];
  const golden = (Math.sqrt(5) - 1) / 2;
  for (let k = 0; k < 60; k++) {
    const [left, right] = [high - golden * (high - low), low + golden * (high - low)];
    if (margin(left) > margin(right)) high = right;
    else low = left;
  }
  const middle = (low + high) / 2;
  return margin(middle) > margin(at(top)) ? middle : at(top);
}

describe('every family', () => {
  it('has the slope that small steps show, but at its joint', () => {
    fc.assert(
      fc.property(anyCurve, evenly(0.5, 300), (curve, p) => {
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
      fc.property(anyCurve, evenly(1e-4, 12), evenly(0, 500), (curve, r, other) => {
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

  it('earns at its economic optimum what a golden-section search finds, and the last plant there just pays', () => {
    const bent = fc.oneof(...ids.filter((id) => id !== 'line').map((family) => anyCurveOf(family)));
    fc.assert(
      fc.property(bent, evenly(0.01, 12), (curve, r) => {
        const margin = (p: number) => yieldAt(curve, p) - r * p;
        const best = economicOptimum(curve, r);
        // No yield is over the level: nothing pays beyond what it has over planting nothing, by r.
        const found = margin(goldenSection(margin, (curve.level - yieldAt(curve, 0)) / r + 1));
        expect(Math.abs(margin(best) - found)).toBeLessThan(1e-8 * (curve.level + r * best));
        if (best > 0 && curve.family !== 'linear-plateau')
          expect(Math.abs(slopeAt(curve, best) - r)).toBeLessThan(1e-8 * (r + curve.level / curve.stand));
      }),
      runs,
    );
  });

  it('earns ever less beyond the last plant to pay, and between two stands most at the thinner or as near to it as they allow', () => {
    fc.assert(
      fc.property(
        anyCurve,
        evenly(0, 6),
        evenly(0, 150),
        evenly(1, 100),
        evenly(0, 1),
        (curve, r, from, wide, share) => {
          const margin = (p: number) => yieldAt(curve, p) - r * p;
          const nearest = Math.min(from + wide, Math.max(from, lastToPay(curve, r)));
          const most = Math.max(margin(from), margin(nearest));
          expect(most).toBeGreaterThanOrEqual(margin(from + share * wide) - 1e-9 * (curve.level + r * 250));
        },
      ),
      runs,
    );
  });

  it('wants no plants when they cost more than any brings, and the best stand when they cost nothing', () => {
    fc.assert(
      fc.property(anyCurve, (curve) => {
        expect(economicOptimum(curve, Infinity)).toBe(0);
        expect(economicOptimum(curve, 0)).toBe(agronomicOptimum(curve));
        // With a bend over a half the first plants of this family bring less than later ones.
        if (curve.family === 'parabolic-reciprocal' && curve.bend > 0.5) return;
        const first = slopeAt(curve, 0);
        if (first > 0 && first < 1e6) expect(economicOptimum(curve, 1.0001 * first)).toBe(0);
      }),
      runs,
    );
  });

  it('is planted well or not at all where the first plants bring little', () => {
    // 200 bu at 30 thousand; the first thousand bring 200 / (4 · 30) = 1.67, those about 20 thousand far more.
    const curve: Curve = { family: 'parabolic-reciprocal', level: 200, stand: 30, bend: 4 };
    // A search over steps of ten plants outside the project.
    expect([1.6, 1.7, 3, 5].map((r) => Math.round(100 * economicOptimum(curve, r)) / 100)).toEqual([
      29.13, 29.08, 28.41, 27.38,
    ]);
    // At 7.5 bushels a thousand the last plants still pay, and all of them together do not.
    expect(lastToPay(curve, 7.5)).toBeGreaterThan(20);
    expect(economicOptimum(curve, 7.5)).toBe(0);
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
    { family: 'line' as const, level: 150, stand: 25, bend: NaN },
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
