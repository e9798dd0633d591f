import { describe, expect, it } from 'vitest';
import { drawChiSquare, drawGamma } from '../../../src/engine/math/draw-gamma.ts';
import { random } from '../../../src/engine/math/random.ts';

const DRAWS = 40_000;

describe('draws of the gamma distribution', () => {
  // Mean and variance of the distribution are its shape; four standard errors of each, from its fourth moment.
  it.each([0.5, 1, 2.5, 20])('of shape %d have that mean and that variance', (shape) => {
    const stream = random(7);
    const drawn = Array.from({ length: DRAWS }, () => drawGamma(stream, shape));
    const mean = drawn.reduce((sum, own) => sum + own, 0) / DRAWS;
    const variance = drawn.reduce((sum, own) => sum + (own - mean) ** 2, 0) / DRAWS;
    expect(Math.abs(mean - shape)).toBeLessThan(4 * Math.sqrt(shape / DRAWS));
    expect(Math.abs(variance - shape)).toBeLessThan(4 * Math.sqrt((2 * shape * shape + 6 * shape) / DRAWS));
  });

  // R 4.2.2: pchisq(c(1, 5, 12), 5) = 0.03743423, 0.5841198, 0.9652123.
  it('are chi-square as R has it', () => {
    const stream = random(11);
    const drawn = Array.from({ length: DRAWS }, () => drawChiSquare(stream, 5));
    for (const [x, share] of [
      [1, 0.03743423],
      [5, 0.5841198],
      [12, 0.9652123],
    ]) {
      const found = drawn.filter((own) => own <= x).length / DRAWS;
      // Four standard errors of a share.
      expect(Math.abs(found - share)).toBeLessThan(4 * Math.sqrt((share * (1 - share)) / DRAWS));
    }
  });
});
