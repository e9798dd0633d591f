import type { FamilyId } from '../response/family.ts';
import { type FamilyFit, isRefused } from '../response/fit/family-fit.ts';
import {
  BEND,
  FIGURES,
  hasBend,
  LEVEL,
  LEVEL_PER_ENVIRONMENT,
  STAND,
  STAND_PER_ENVIRONMENT,
} from '../response/fit/figures.ts';
import { finishFit, likeliest } from '../response/fit/fit-family.ts';
import { trialOf } from '../response/fit/trial.ts';
import type { Plots } from '../response/plots.ts';
import type { FittedFigures } from './fitted-response.ts';
import type { ProductGroup } from './shrink-to-group.ts';

/** How far a figure of the group is moved to see what the level makes of it, in its spreads. */
const MOVED = 0.01;

export interface BorrowedCurve extends FittedFigures {
  readonly fit: FamilyFit;
  /** Plots whose stand is not known, taken as at the best stand. */
  readonly takenAsBest: number;
}

/**
 * The group's stand and bend with the product's own level, for a product that was not tried at stands enough. What the group's spread makes of the level is in its standard error. Plots without a stand are taken as at
 * the group's best stand, and only where there are no others. Null where there is no plot.
 */
export function borrowCurve(
  plots: Plots,
  family: FamilyId,
  reference_buPerAc: number,
  group: ProductGroup,
): BorrowedCurve | null {
  const { mean, between, meanCovariance, shared } = group;
  const shape = [STAND, STAND_PER_ENVIRONMENT, BEND].filter((k) => shared.includes(k));
  const own = withStands(plots, mean, reference_buPerAc);
  const rows = plots.stand_k.length;
  const fitAt = (figures: Float64Array) => {
    const held = {
      stand_k: figures[STAND],
      standPerEnvironment_k: shared.includes(STAND_PER_ENVIRONMENT) ? figures[STAND_PER_ENVIRONMENT] : 0,
      ...(hasBend(family) ? { bend: figures[BEND] } : {}),
    };
    const likely = likeliest(trialOf(own.plots, reference_buPerAc), family, { held });
    return isRefused(likely) ? likely : finishFit(likely, reference_buPerAc, rows);
  };
  const fit = fitAt(mean);
  if (isRefused(fit)) return null;
  const covariance = Float64Array.from(fit.covariance);
  const spread = (a: number, b: number) => between[a * FIGURES + b] + meanCovariance[a * FIGURES + b];
  for (const a of shape) for (const b of shape) covariance[a * FIGURES + b] = spread(a, b);
  const levels = [LEVEL, LEVEL_PER_ENVIRONMENT].filter((k) => fit.fitted.includes(k));
  const slopes = shape.map((k) => {
    const reach = MOVED * Math.sqrt(spread(k, k));
    const moved = Float64Array.from(mean);
    moved[k] += reach;
    const there = reach > 0 ? fitAt(moved) : fit;
    return levels.map((l) =>
      isRefused(there) || reach === 0 ? 0 : (there.figures[l] - fit.figures[l]) / reach,
    );
  });
  for (const [i, l] of levels.entries()) {
    for (const [a, k] of shape.entries()) {
      let sum = 0;
      for (const [b, m] of shape.entries()) sum += slopes[b][i] * spread(m, k);
      covariance[l * FIGURES + k] = covariance[k * FIGURES + l] = sum;
      for (const [j, other] of levels.entries()) covariance[l * FIGURES + other] += sum * slopes[a][j];
    }
  }
  return {
    ...{ family, reference_buPerAc, figures: fit.figures, covariance, fit },
    withinDf: group.products - 1,
    betweenDf: fit.betweenDf,
    plotSd_buPerAc: fit.plotSd_buPerAc,
    siteSd_buPerAc: fit.siteSd_buPerAc,
    takenAsBest: own.taken,
  };
}

function withStands(
  plots: Plots,
  mean: Float64Array,
  reference_buPerAc: number,
): { readonly plots: Plots; readonly taken: number } {
  if (plots.stand_k.some((stand) => stand > 0)) return { plots, taken: 0 };
  const perEnvironment = mean[STAND_PER_ENVIRONMENT] || 0;
  const stand_k = plots.environment_buPerAc.map((e) => {
    const away = Number.isNaN(e) ? 0 : e - reference_buPerAc;
    return mean[STAND] + perEnvironment * away;
  });
  return { plots: { ...plots, stand_k }, taken: stand_k.length };
}
