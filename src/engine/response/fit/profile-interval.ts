import { tQuantile } from '../../math/student-t.ts';
import type { Interval } from './curve-interval.ts';
import type { FamilyFit } from './family-fit.ts';
import { fillColumns, workOn } from './fit-work.ts';
import { takeMoments, weigh } from './moments.ts';
import { profile } from './profile.ts';
import { shapeBounds } from './shape-starts.ts';

/** An end further off than so many times the densest stand is no end: the plots do not tell it. */
const NO_END = 50;
/** Nor one this near to no plants at all, as a share of the thinnest. */
const NONE = 1e-3;

/**
 * The interval of a stand that follows from the figures (the best one on some ground, say), by the profile of the likelihood: all values at which the curve that has it there fits no worse than F
 * allows, the ratio of variances as fitted, degrees of freedom those within sites. For a quadratic this is Fieller's interval. Ends the plots do not tell are infinite.
 */
export function profileInterval(
  fit: FamilyFit,
  figure: (figures: Float64Array) => number,
  level = 0.95,
): Interval {
  const value = figure(fit.figures);
  if (!Number.isFinite(value)) return { value, low: NaN, high: NaN };
  if (!(fit.withinDf > 0)) return { value, low: -Infinity, high: Infinity };
  const { trial, family, fitted, ratio } = fit;
  const { min, max } = trial.tested_k;
  const work = workOn(trial, family, fitted, shapeBounds(family, trial));
  const normalAt = (figures: Float64Array, normal: Float64Array) => {
    if (!fillColumns(work, figures, true)) return false;
    takeMoments(trial, work.columns, work.active, work.moments);
    weigh(trial, work.moments, ratio, normal);
    return true;
  };
  const [low, high] = profile(
    { ...fit, active: work.active, normalAt, variance: fit.plotSd_buPerAc ** 2 },
    figure,
    tQuantile((1 + level) / 2, fit.withinDf),
    [NONE * min, NO_END * max],
  );
  return { value, low: low ?? -Infinity, high: high ?? Infinity };
}
