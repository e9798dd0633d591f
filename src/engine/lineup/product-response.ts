import type { Curve } from '../response/curve.ts';
import type { FamilyId } from '../response/family.ts';

/**
 * How a product's yield answers to stand and to the yield environment E (bu/ac of dry grain the ground is expected to
 * give an average product at a good stand). Level and stand are linear in E and nothing assumes a sign: the best stand of corn tends to
 * rise with E and that of soybean to fall. What level, stand and bend are is the family's to say.
 */
export interface ProductResponse {
  readonly family: FamilyId;
  /** E₀, the environment level and stand are given at, bu/ac. */
  readonly reference_buPerAc: number;
  readonly level_buPerAc: number;
  /** Change of the level per bu/ac of E; 1 follows the ground, less holds on, more answers. */
  readonly levelPerEnvironment: number;
  readonly stand_plantsPerAc: number;
  /** Change of the stand per bu/ac of E, plants/ac. */
  readonly standPerEnvironment_plantsPerAc: number;
  /** By 1000 plants/ac, as the family has it; null where it has none. */
  readonly bend: number | null;
  /** How sure that is; null where nobody told. */
  readonly uncertainty: ResponseUncertainty | null;
}

export interface ResponseUncertainty {
  /**
   * Lower triangle, row by row, of the covariance of level_buPerAc, levelPerEnvironment, stand_plantsPerAc, standPerEnvironment_plantsPerAc and bend: 15 figures; 0 for
   * one that was not fitted.
   */
  readonly covariance: readonly number[];
  /** Degrees of freedom behind it. */
  readonly df: number;
  /** Spread between plots of one site and stand, and of the product at a site around its curve, bu/ac. */
  readonly plotSd_buPerAc: number;
  readonly siteSd_buPerAc: number;
}

/** How the response was come by. */
export interface ResponseFit {
  readonly plots: number;
  readonly sites: number;
  /** The next best family, and how much more its criterion (AICc) is; null where no other could be fitted. */
  readonly runnerUp: { readonly family: FamilyId; readonly aiccMore: number } | null;
  /** Share of the best stand that is the group's, 0–1: poorly tested products lean on it. */
  readonly leaning: number;
  /** In words: what was done and what is in doubt. */
  readonly said: readonly string[];
}

/** The curve on ground of environment `environment_buPerAc`. */
export function curveOf(response: ProductResponse, environment_buPerAc: number): Curve {
  const away = environment_buPerAc - response.reference_buPerAc;
  return {
    family: response.family,
    level: response.level_buPerAc + response.levelPerEnvironment * away,
    stand: (response.stand_plantsPerAc + response.standPerEnvironment_plantsPerAc * away) / 1000,
    bend: response.bend ?? NaN,
  };
}
