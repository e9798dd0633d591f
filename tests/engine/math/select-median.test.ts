import { describe, expect, it } from 'vitest';
import { random } from '../../../src/engine/math/random.ts';
import { selectKth, selectMedian } from '../../../src/engine/math/select-median.ts';

/** 20,000 figures of so many kinds: few kinds are counted, many are selected among. */
function figures(kinds: number, length: number): Float64Array {
  const chance = random(kinds);
  return Float64Array.from({ length }, () => Math.floor(kinds * chance.uniform()) / 8);
}

describe('the k-th of many', () => {
  it.each([1, 2, 3, 20, 1000, 1e9])('is that of the sorted ones, of %d kinds', (kinds) => {
    const length = 20_000;
    const sorted = figures(kinds, length).sort();
    for (const k of [0, 1, 199, 9999, 10_000, 19_998, 19_999])
      expect(selectKth(figures(kinds, length), length, k)).toBe(sorted[k]);
    const half = length / 2;
    expect(selectMedian(figures(kinds, length), length)).toBe((sorted[half - 1] + sorted[half]) / 2);
    const odd = figures(kinds, length - 1).sort();
    expect(selectMedian(figures(kinds, length - 1), length - 1)).toBe(odd[half - 1]);
  });

  it('is a mean of two where the middle parts two kinds', () => {
    const values = Float64Array.from({ length: 20_000 }, (_, i) => i % 2);
    expect(selectMedian(values, 20_000)).toBe(0.5);
  });
});
