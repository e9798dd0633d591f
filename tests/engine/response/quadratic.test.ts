import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Curve } from '../../../src/engine/response/curve.ts';
import { agronomicOptimum, economicOptimum, yieldAt } from '../../../src/engine/response/quadratic.ts';

describe('a quadratic and its plateau', () => {
  // Top of 100 at 20 thousand.
  const quadratic: Curve = { family: 'quadratic', a: 60, b: 4, c: 0.1 };
  const plateau: Curve = { ...quadratic, family: 'quadratic-plateau' };

  it('rise alike to the top', () => {
    for (const stand of [0, 5, 12.5, 20]) expect(yieldAt(plateau, stand)).toBe(yieldAt(quadratic, stand));
    expect(yieldAt(quadratic, 20)).toBe(100);
  });

  it('part there: one falls, the other stays', () => {
    expect(yieldAt(quadratic, 30)).toBe(90);
    expect(yieldAt(plateau, 30)).toBe(100);
    expect(yieldAt(plateau, 1e6)).toBe(100);
  });

  it('meet the plateau without a corner', () => {
    const step = 1e-4;
    const before = (yieldAt(plateau, 20) - yieldAt(plateau, 20 - step)) / step;
    const after = (yieldAt(plateau, 20 + step) - yieldAt(plateau, 20)) / step;
    // 0.1 · step on the one side, nothing on the other.
    expect(Math.abs(before - after)).toBeLessThan(2e-5);
  });

  it('pay best a little under the top, by half the price of a thousand plants over c', () => {
    expect(agronomicOptimum(quadratic)).toBe(20);
    expect(economicOptimum(quadratic, 0)).toBe(20);
    expect(economicOptimum(quadratic, 1)).toBe(15);
    expect(economicOptimum(plateau, 1)).toBe(15);
    expect(economicOptimum(quadratic, 4)).toBe(0);
    expect(economicOptimum(quadratic, 40)).toBe(0);
  });

  it('pay nowhere better than at the optimum', () => {
    fc.assert(
      fc.property(
        fc.record({
          family: fc.constantFrom('quadratic' as const, 'quadratic-plateau' as const),
          a: fc.double({ min: -50, max: 150, noNaN: true }),
          b: fc.double({ min: 0, max: 12, noNaN: true }),
          c: fc.double({ min: 0.001, max: 0.5, noNaN: true }),
        }),
        fc.double({ min: 0, max: 10, noNaN: true }),
        fc.double({ min: 0, max: 500, noNaN: true }),
        (curve, r, other) => {
          const best = economicOptimum(curve, r);
          return yieldAt(curve, best) - r * best >= yieldAt(curve, other) - r * other - 1e-7;
        },
      ),
      { seed: 1, numRuns: 2000 },
    );
  });
});
