import type { FamilyFit } from './family-fit.ts';
import { FIGURES } from './figures.ts';

/** What a product's plots cannot show of a figure, as a variance in the figure's own unit squared. */
export interface Unseen {
  readonly figure: number;
  readonly variance: number;
}

/** The fit, less sure by what its plots cannot show; wherever its covariance is taken anew, that is added again. */
export function withUnseen(fit: FamilyFit, unseen: Unseen): FamilyFit {
  return {
    ...fit,
    unseen: [...fit.unseen, unseen],
    covariance: addUnseen(fit.covariance.slice(), [unseen]),
  };
}

/** Adds to a covariance of the figures in its place. */
export function addUnseen(covariance: Float64Array, all: readonly Unseen[]): Float64Array {
  for (const { figure, variance } of all) covariance[figure * FIGURES + figure] += variance;
  return covariance;
}
