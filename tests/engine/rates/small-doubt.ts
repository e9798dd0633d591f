import type { RatedProduct } from '../../../src/engine/lineup/product.ts';
import type { ResponseUncertainty } from '../../../src/engine/lineup/product-response.ts';
import { product } from '../lineup/small-lineup.ts';

/** So many degrees of freedom that Student's t is the normal distribution. */
const SURE_OF_SPREAD = 1e9;

/** Only the level is not sure: by so many bu/ac. */
export function unsureLevel(sd_buPerAc: number, df = SURE_OF_SPREAD): ResponseUncertainty {
  const covariance = [sd_buPerAc ** 2, ...new Array(14).fill(0)];
  return { covariance, df, plotSd_buPerAc: 5, siteSd_buPerAc: 3 };
}

/** The product of easy figures, its level not sure. */
export function unsure(
  sd_buPerAc: number,
  change: Parameters<typeof product>[0] = {},
  df?: number,
): RatedProduct {
  return product({
    ...change,
    response: { ...change.response, uncertainty: unsureLevel(sd_buPerAc, df) },
  });
}

export const money = { grainPrice_perBu: 4, dryingHauling_perBu: 0, emergence: 1 };
export const sureGround = (zones: number) => ({
  levelSd_buPerAc: 0,
  zoneSd_buPerAc: new Array<number>(zones).fill(0),
});
