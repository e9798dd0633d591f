import fc from 'fast-check';
import { newProduct } from '../../../src/engine/lineup/new-product.ts';
import type { RatedProduct } from '../../../src/engine/lineup/product.ts';
import type { ProductResponse } from '../../../src/engine/lineup/product-response.ts';
import { FAMILIES } from '../../../src/engine/response/families.ts';
import type { FamilyId } from '../../../src/engine/response/family.ts';
import { anyBendOf, evenly } from '../response/any-curve.ts';

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

/** Of any family, with a best stand and a level that may go far with the ground: out of all reason, too. */
export const anyProduct: fc.Arbitrary<RatedProduct> = fc
  .constantFrom(...(Object.keys(FAMILIES) as FamilyId[]))
  .chain((family) =>
    fc.record({
      family: fc.constant(family),
      bend: anyBendOf(family),
      level: evenly(20, 260),
      follows: evenly(-0.5, 1.5),
      stand: evenly(5000, 60_000),
      moves: evenly(-60, 60),
      price: fc.oneof({ weight: 9, arbitrary: evenly(0, 500) }, fc.constant(0)),
      tested: fc.tuple(fc.integer({ min: 8000, max: 30_000 }), fc.integer({ min: 1000, max: 20_000 })),
    }),
  )
  .map(({ family, bend, level, follows, stand, moves, price, tested }) =>
    product({
      pricePerUnit: price,
      tested_plantsPerAc: { min: tested[0], max: tested[0] + tested[1] },
      response: {
        family,
        level_buPerAc: level,
        levelPerEnvironment: follows,
        stand_plantsPerAc: stand,
        standPerEnvironment_plantsPerAc: moves,
        bend: Number.isNaN(bend) ? null : bend,
      },
    }),
  );
