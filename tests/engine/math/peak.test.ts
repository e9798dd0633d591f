import { describe, expect, it } from 'vitest';
import { peakOf } from '../../../src/engine/math/peak.ts';

describe('peakOf', () => {
  const parabola = (top: number) => Array.from({ length: 12 }, (_, k) => 3 - 0.2 * (k - top) ** 2);

  it('finds the vertex of a parabola between its numbers', () => {
    // Exact but for rounding.
    for (const top of [3, 4.25, 5.5, 7.9]) expect(peakOf(parabola(top), 3)).toBeCloseTo(top, 10);
  });

  it('uses what there is near an end, and stays on the curve', () => {
    expect(peakOf(parabola(0.3), 3)).toBeCloseTo(0.3, 10);
    expect(peakOf([5, 4, 3, 2], 1)).toBe(0);
    expect(peakOf([1, 1, 1, 1], 2)).toBe(0);
  });

  it('is not known where nothing is', () => {
    expect(peakOf([NaN, NaN], 1)).toBeNaN();
    expect(peakOf([], 1)).toBeNaN();
  });
});
