import { expect, it } from 'vitest';
import { lagMoments } from '../../../src/engine/harvest/lag-moments.ts';

/** All ways to choose k of the values. */
function subsets(values: readonly number[], k: number): number[][] {
  if (k === 0) return [[]];
  return values.flatMap((own, i) => subsets(values.slice(i + 1), k - 1).map((rest) => [own, ...rest]));
}

it('agrees with the lags of every way to draw the neighbours', () => {
  const z = [-5, -2, -1, 0, 2.5, 5.5];
  const squares = z.reduce((sum, own) => sum + own * own, 0);
  for (const [i, own] of z.entries()) {
    for (const k of [1, 2, 3, 4]) {
      const lags = subsets(z.toSpliced(i, 1), k).map((drawn) => drawn.reduce((a, b) => a + b, 0) / k);
      const mean = lags.reduce((a, b) => a + b, 0) / lags.length;
      const variance = lags.reduce((sum, lag) => sum + (lag - mean) ** 2, 0) / lags.length;
      const moments = lagMoments(own, z.length, squares, k);
      expect(moments.mean).toBeCloseTo(mean, 12);
      expect(moments.variance).toBeCloseTo(variance, 12);
    }
  }
});
