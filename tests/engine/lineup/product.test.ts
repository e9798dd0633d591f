import { describe, expect, it } from 'vitest';
import { curveAt } from '../../../src/engine/lineup/product.ts';
import { sameCrop } from '../../../src/engine/math/crop-name.ts';
import { agronomicOptimum, yieldAt } from '../../../src/engine/response/curve.ts';
import { product } from './small-lineup.ts';

describe('the curve of a product on some ground', () => {
  const answers = product({
    response: { levelPerEnvironment: 1.2, standPerEnvironment_plantsPerAc: 40 },
  });

  it('is its own at the reference', () => {
    const curve = curveAt(answers, 200);
    expect(yieldAt(curve, 30)).toBeCloseTo(200, 9);
    expect(agronomicOptimum(curve)).toBeCloseTo(30, 12);
    // Two thousand plants off cost 0.1 · 2².
    expect(yieldAt(curve, 32)).toBeCloseTo(199.6, 9);
  });

  it('moves its top up and over by the environment', () => {
    const curve = curveAt(answers, 175);
    expect(agronomicOptimum(curve)).toBeCloseTo(29, 12);
    expect(yieldAt(curve, 29)).toBeCloseTo(170, 9);
    expect(curve.bend).toBe(0.1);
  });

  it('falls with the environment where the figures say so', () => {
    const holds = product({ response: { standPerEnvironment_plantsPerAc: -1000 } });
    expect(agronomicOptimum(curveAt(holds, 205))).toBeCloseTo(25, 12);
  });
});

it('crops are the same whatever case, plural or blanks', () => {
  expect(sameCrop('Soybeans', ' soybean')).toBe(true);
  expect(sameCrop('corn', 'Corn ')).toBe(true);
  expect(sameCrop('corn', 'popcorn')).toBe(false);
});
