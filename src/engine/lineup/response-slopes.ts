import { FIGURES } from '../response/fit/figures.ts';
import type { ProductResponse, ResponseUncertainty } from './product-response.ts';

/** Slopes are taken over this share of a figure's own standard error. */
const SHARE = 1e-3;
/** Stands are given by the plant and reckoned by the thousand. */
const UNIT = [1, 1, 1000, 1000, 1];

/** The whole covariance of the five figures, row by row, stands by the thousand. */
export function wholeCovariance({ covariance }: ResponseUncertainty): Float64Array {
  const whole = new Float64Array(FIGURES * FIGURES);
  for (let i = 0, at = 0; i < FIGURES; i++)
    for (let j = 0; j <= i; j++, at++)
      whole[i * FIGURES + j] = whole[j * FIGURES + i] = covariance[at] / (UNIT[i] * UNIT[j]);
  return whole;
}

/** Slopes of whatever follows from a response by its five figures, stands by the thousand; 0 by one that was not fitted. */
export function slopesByFigures(
  response: ProductResponse,
  covariance: Float64Array,
  of: (response: ProductResponse) => number,
): Float64Array {
  return Float64Array.from({ length: FIGURES }, (_, k) => {
    const reach = SHARE * Math.sqrt(covariance[k * FIGURES + k]);
    if (!(reach > 0)) return 0;
    return (of(moved(response, k, reach)) - of(moved(response, k, -reach))) / (2 * reach);
  });
}

/** The response with one of its figures moved by so much. */
function moved(response: ProductResponse, k: number, by: number): ProductResponse {
  if (k === 0) return { ...response, level_buPerAc: response.level_buPerAc + by };
  if (k === 1) return { ...response, levelPerEnvironment: response.levelPerEnvironment + by };
  if (k === 2) return { ...response, stand_plantsPerAc: response.stand_plantsPerAc + UNIT[k] * by };
  if (k === 3)
    return {
      ...response,
      standPerEnvironment_plantsPerAc: response.standPerEnvironment_plantsPerAc + UNIT[k] * by,
    };
  return { ...response, bend: response.bend === null ? null : response.bend + by };
}
