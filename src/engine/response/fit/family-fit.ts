import type { FamilyId } from '../family.ts';
import type { Trial } from './trial.ts';
import type { Unseen } from './unseen.ts';

/** A family fitted to the plots of one product. */
export interface FamilyFit {
  readonly family: FamilyId;
  readonly reference_buPerAc: number;
  /** Level, level per environment, stand, stand per environment, bend (NaN where the family has none): bu/ac, 1000 plants/ac. */
  readonly figures: Float64Array;
  /** Which of them were fitted; the rest are held. */
  readonly fitted: readonly number[];
  /** Of the figures, 5 × 5; 0 where held. */
  readonly covariance: Float64Array;
  /** What is in the covariance though the plots cannot show it. */
  readonly unseen: readonly Unseen[];
  readonly plotSd_buPerAc: number;
  readonly siteSd_buPerAc: number;
  /** (siteSd / plotSd)². */
  readonly ratio: number;
  /** Degrees of freedom for what is seen within sites (stand, bend) and between them (level): plots less sites less figures of the kind, and sites less figures of the kind. */
  readonly withinDf: number;
  readonly betweenDf: number;
  readonly minusTwoLogLikelihood: number;
  readonly aicc: number;
  readonly converged: boolean;
  /** The plots that counted. */
  readonly trial: Trial;
  /** By plot as given: yield of the curve (not of the site), what is left of it; NaN for plots that do not count. */
  readonly curve_buPerAc: Float64Array;
  readonly residual_buPerAc: Float64Array;
  /** Sentences about what was held and what is in doubt. */
  readonly doubts: readonly string[];
}

/** Why a family cannot be had from these plots, in words. */
export interface FamilyRefusal {
  readonly family: FamilyId;
  readonly refused: string;
}

export function isRefused(fit: { readonly family: FamilyId } | FamilyRefusal): fit is FamilyRefusal {
  return 'refused' in fit;
}
