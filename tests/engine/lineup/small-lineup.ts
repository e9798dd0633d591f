import fc from 'fast-check';
import { newProduct } from '../../../src/engine/lineup/new-product.ts';
import type { RatedProduct } from '../../../src/engine/lineup/product.ts';
import type { ProductResponse } from '../../../src/engine/lineup/product-response.ts';

/** A product whose figures are easy to follow: 200 bu/ac at 30,000 plants, a tenth of a bushel lost per squared thousand, $240 for 80,000 seeds. */
export function product(
  change: Partial<Omit<RatedProduct, 'response'>> & { response?: Partial<ProductResponse> } = {},
): RatedProduct {
  const { response, ...rest } = change;
  const known = {
    id: 'a',
    name: 'A',
    crop: 'corn',
    maturity: '108',
    seedsPerUnit: 80_000,
    pricePerUnit: 240,
    tested_plantsPerAc: { min: 20_000, max: 40_000 },
    ...rest,
  };
  return {
    ...newProduct(known),
    ...known,
    response: {
      family: 'quadratic',
      reference_buPerAc: 200,
      level_buPerAc: 200,
      levelPerEnvironment: 1,
      stand_plantsPerAc: 30_000,
      standPerEnvironment_plantsPerAc: 0,
      bend: 0.1,
      uncertainty: null,
      ...response,
    },
  };
}

export const anyProduct: fc.Arbitrary<RatedProduct> = fc
  .record({
    family: fc.constantFrom('quadratic' as const, 'quadratic-plateau' as const),
    top: fc.double({ min: 20, max: 260, noNaN: true }),
    follows: fc.double({ min: -0.5, max: 1.5, noNaN: true }),
    best: fc.double({ min: 5000, max: 60_000, noNaN: true }),
    moves: fc.double({ min: -60, max: 60, noNaN: true }),
    curvature: fc.double({ min: 0.001, max: 0.5, noNaN: true }),
    price: fc.double({ min: 0, max: 500, noNaN: true }),
    tested: fc.tuple(fc.integer({ min: 8000, max: 30_000 }), fc.integer({ min: 1000, max: 20_000 })),
  })
  .map(({ family, top, follows, best, moves, curvature, price, tested }) =>
    product({
      pricePerUnit: price,
      tested_plantsPerAc: { min: tested[0], max: tested[0] + tested[1] },
      response: {
        family,
        level_buPerAc: top,
        levelPerEnvironment: follows,
        stand_plantsPerAc: best,
        standPerEnvironment_plantsPerAc: moves,
        bend: curvature,
      },
    }),
  );
