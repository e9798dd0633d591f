import { cholesky, inverseByCholesky } from '../../math/cholesky.ts';
import { tQuantile } from '../../math/student-t.ts';
import type { FamilyId } from '../family.ts';
import type { Plots } from '../plots.ts';
import { balance } from './balance.ts';
import { bestStart } from './best-start.ts';
import { type FamilyFit, type FamilyRefusal, isRefused } from './family-fit.ts';
import { BEND, FIGURES, LEVEL, LEVEL_PER_ENVIRONMENT } from './figures.ts';
import { AT_REST, NEAR } from './find-shape.ts';
import { fitDoubts } from './fit-doubts.ts';
import { refusalOf, wrongWith } from './fit-refusal.ts';
import { type FitWork, workOn } from './fit-work.ts';
import { fittedFigures, type Held } from './fitted-figures.ts';
import { shapeBounds } from './shape-starts.ts';
import { type Trial, trialOf } from './trial.ts';

export interface FitOptions {
  /** Figures that are given, not fitted. */
  readonly held?: Held;
}

/** Standard errors by which the mean of the plots may lie off the curve. Our own choice. */
const OFF_THE_PLOTS = 4;
const UNTOLD = 'the plots do not tell its figures apart';

/**
 * A family fitted to the plots of a product, sites being chance: y = f(p; level(E), stand(E), bend) + site + plot. Figures and variances by restricted likelihood, the figures of a
 * shape by variable projection; −2 log likelihood and AICc by full likelihood, which alone compares families. AICc counts plots. With one site there is no site to be chance: give its blocks as sites.
 */
export function fitFamily(
  plots: Plots,
  family: FamilyId,
  reference_buPerAc: number,
  options: FitOptions = {},
): FamilyFit | FamilyRefusal {
  const likely = likeliest(trialOf(plots, reference_buPerAc), family, options);
  return isRefused(likely) ? likely : finishFit(likely, reference_buPerAc, plots.stand_k.length);
}

/** The likeliest curve of a family: enough to compare it with others. */
export interface Likeliest {
  readonly family: FamilyId;
  readonly work: FitWork;
  readonly figures: Float64Array;
  readonly said: readonly string[];
  /** Whether sites can be told from plots. */
  readonly apart: boolean;
  readonly withinDf: number;
  readonly ratio: number;
  readonly minusTwoLogLikelihood: number;
  readonly aicc: number;
}

export function likeliest(
  trial: Trial,
  family: FamilyId,
  { held = {} }: FitOptions = {},
): Likeliest | FamilyRefusal {
  const refuse = (refused: string): FamilyRefusal => ({ family, refused });
  const told = refusalOf(trial, family, held);
  if (told !== null) return refuse(told);
  const { fitted, figures, said } = fittedFigures(family, trial, held);
  const work = workOn(trial, family, fitted, shapeBounds(family, trial));
  const k = work.active.length;
  const within = work.active.filter((at) => at !== LEVEL && at !== LEVEL_PER_ENVIRONMENT).length;
  // Where nothing is left within sites, they cannot be told from plots.
  const withinSites = trial.plots - trial.sites - within;
  const apart = trial.sites > 1 && withinSites > 0;
  if (trial.plots - k < 1)
    return refuse(
      `${trial.plots === 1 ? '1 plot is' : `${trial.plots} plots are`} too few for ${k === 1 ? '1 figure' : `${k} figures`}: nothing is left to judge by`,
    );
  if (!bestStart(work, figures, family, apart ? 1 : 0))
    return refuse('no shape of it gives a yield for every plot');
  const full = balance(work, figures, apart ? 'full' : null, null, NEAR);
  const wrong = wrongWith(work, figures, family) ?? (full === null ? UNTOLD : null);
  if (wrong !== null || full === null) return refuse(wrong ?? UNTOLD);
  const parameters = k + (apart ? 2 : 1);
  const spare = trial.plots - parameters - 1;
  return {
    ...{ family, work, figures, said, apart },
    withinDf: apart ? withinSites : trial.plots - k,
    ratio: full.ratio,
    minusTwoLogLikelihood: full.minusTwoLogLikelihood,
    aicc:
      spare > 0
        ? full.minusTwoLogLikelihood + 2 * parameters + (2 * parameters * (parameters + 1)) / spare
        : Infinity,
  };
}

/** Figures by restricted likelihood, to the last digit, and how sure they are. `rows` is how many plots were given. */
export function finishFit(
  likely: Likeliest,
  reference_buPerAc: number,
  rows: number,
): FamilyFit | FamilyRefusal {
  const { family, work, apart, withinDf } = likely;
  const { trial, active } = work;
  const figures = likely.figures.slice();
  const found = balance(work, figures, apart ? 'restricted' : null, likely.ratio, AT_REST);
  const wrong = wrongWith(work, figures, family);
  const covariance = found && covarianceOf(work);
  if (wrong !== null || !found || !covariance) return { family, refused: wrong ?? UNTOLD };
  const k = active.length;
  const variance = found.rss / (trial.plots - k);
  for (let i = 0; i < covariance.length; i++) covariance[i] *= variance;
  const off = meanOff(work, variance, found.ratio);
  if (off > OFF_THE_PLOTS) return { family, refused: 'it passes by the plots as a whole' };
  const curve_buPerAc = new Float64Array(rows).fill(NaN);
  const residual_buPerAc = new Float64Array(rows).fill(NaN);
  for (let i = 0; i < trial.plots; i++) {
    residual_buPerAc[trial.row[i]] = work.residuals[i];
    curve_buPerAc[trial.row[i]] = trial.y[i] - work.residuals[i];
  }
  const slopeHalfWidth = tQuantile(0.975, withinDf) * Math.sqrt(covariance[BEND * FIGURES + BEND]);
  return {
    ...{ family, reference_buPerAc, figures, covariance, withinDf, trial, curve_buPerAc, residual_buPerAc },
    fitted: Array.from(active).sort(),
    unseen: [],
    plotSd_buPerAc: Math.sqrt(variance),
    siteSd_buPerAc: Math.sqrt(variance * found.ratio),
    ratio: found.ratio,
    betweenDf: apart ? trial.sites - 1 - (active.includes(LEVEL_PER_ENVIRONMENT) ? 1 : 0) : withinDf,
    minusTwoLogLikelihood: likely.minusTwoLogLikelihood,
    aicc: likely.aicc,
    converged: found.converged,
    doubts: [...likely.said, ...fitDoubts(trial, family, figures, apart, found.converged, slopeHalfWidth)],
  };
}

/** How far the plots as a whole lie off the curve, in standard errors of their mean: a curve through the origin may leave it to its sites to make up for what it misses. */
function meanOff({ trial, residuals }: FitWork, variance: number, ratio: number): number {
  let sum = 0;
  let weight = 0;
  for (let j = 0; j < trial.sites; j++) {
    const n = trial.start[j + 1] - trial.start[j];
    let own = 0;
    for (let i = trial.start[j]; i < trial.start[j + 1]; i++) own += residuals[i];
    sum += own / (1 + n * ratio);
    weight += n / (1 + n * ratio);
  }
  return Math.abs(sum) / Math.sqrt(variance * weight);
}

/** (JᵀV⁻¹J)⁻¹ in the places of the figures, from the normal equations in `work`. */
function covarianceOf({ active, normal, factor }: FitWork): Float64Array | null {
  const k = active.length;
  for (let a = 0; a < k; a++) for (let b = 0; b <= a; b++) factor[a * k + b] = normal[a * (k + 1) + b];
  if (!cholesky(factor, k)) return null;
  const inverse = inverseByCholesky(factor, k);
  const covariance = new Float64Array(FIGURES * FIGURES);
  for (let a = 0; a < k; a++)
    for (let b = 0; b < k; b++) covariance[active[a] * FIGURES + active[b]] = inverse[a * k + b];
  return covariance;
}
