import type { Curve } from '../response/curve.ts';

/**
 * How a product's yield answers to stand and to the yield environment E (bu/ac of dry grain the ground is expected to
 * give an average product at a good stand). All of it is linear in E and nothing assumes a sign: the best stand of corn tends to
 * rise with E and that of soybean to fall.
 */
export interface ProductResponse {
  readonly family: Curve['family'];
  /** E₀, the environment the next two figures are given at, bu/ac. */
  readonly reference_buPerAc: number;
  /** Yield at the best stand when E = E₀, bu/ac. */
  readonly yieldAtReference_buPerAc: number;
  /** Change of that yield per bu/ac of E; 1 follows the ground, less holds on, more answers. */
  readonly yieldPerEnvironment: number;
  /** The stand of highest yield when E = E₀, plants/ac. */
  readonly optimum_plantsPerAc: number;
  /** Change of that stand per bu/ac of E, plants/ac. */
  readonly optimumPerEnvironment_plantsPerAc: number;
  /** Yield lost per squared 1000 plants/ac away from the best stand, bu/ac. Positive. */
  readonly curvature_buPerAc: number;
}

export interface Product {
  readonly id: string;
  readonly name: string;
  readonly crop: string;
  /** Relative maturity (days or group), as the trade writes it. */
  readonly maturity: string;
  readonly seedsPerUnit: number;
  readonly pricePerUnit: number;
  /** Stands the trials covered, plants/ac; rates are not set outside them. */
  readonly tested_plantsPerAc: { readonly min: number; readonly max: number };
  readonly response: ProductResponse;
  /** Trial sites behind the response; null when not stated. */
  readonly trialSites: number | null;
}

/** The product's curve on ground of environment `environment_buPerAc`. */
export function curveAt(product: Product, environment_buPerAc: number): Curve {
  const r = product.response;
  const away = environment_buPerAc - r.reference_buPerAc;
  const top = r.yieldAtReference_buPerAc + r.yieldPerEnvironment * away;
  const best = (r.optimum_plantsPerAc + r.optimumPerEnvironment_plantsPerAc * away) / 1000;
  const c = r.curvature_buPerAc;
  return { family: r.family, a: top - c * best * best, b: 2 * c * best, c };
}
