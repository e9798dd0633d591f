import type { LineupInput } from '../../src/plan/lineup-schema.ts';
import { fitResponse } from './response-fit.ts';
import type { Plot } from './trials.ts';
import { CROPS, TRUE_PRODUCTS } from './true-products.ts';

/** The lineup as its trials show it: every response is the least-squares fit of the product's plots. */
export function lineupOf(plots: readonly Plot[]): LineupInput {
  return {
    document: 'eachacre-lineup',
    version: 1,
    name: 'Meadow and marsh (invented)',
    products: TRUE_PRODUCTS.map((product) => {
      const crop = CROPS[product.crop];
      const own = plots.filter((plot) => plot.product === product.name);
      return {
        id: product.id,
        name: product.name,
        crop: product.crop,
        maturity: product.maturity,
        seedsPerUnit: crop.seedsPerUnit,
        pricePerUnit: product.pricePerUnit,
        tested_plantsPerAc: {
          min: crop.stands_k[0] * 1000,
          max: crop.stands_k[crop.stands_k.length - 1] * 1000,
        },
        response: { ...fitResponse(own, crop.reference_buPerAc), uncertainty: null },
        fit: {
          plots: own.length,
          sites: new Set(own.map((plot) => plot.site)).size,
          runnerUp: null,
          leaning: 0,
          said: [],
        },
      };
    }),
  };
}
