import { cholesky, inverseByCholesky } from '../../math/cholesky.ts';
import { agronomicOptimum, curveDoubt } from '../curve.ts';
import { FAMILIES } from '../families.ts';
import type { FamilyId } from '../family.ts';
import type { Plots } from '../plots.ts';
import { type FamilyFit, type FamilyRefusal, isRefused } from './family-fit.ts';
import { BEND, curveAway, FIGURES, LEVEL, LEVEL_PER_ENVIRONMENT, STAND } from './figures.ts';
import { AT_REST, findShape, NEAR } from './find-shape.ts';
import { fitDoubts } from './fit-doubts.ts';
import { type FitWork, fillColumns, workOn } from './fit-work.ts';
import { fittedFigures, type Held } from './fitted-figures.ts';
import { takeMoments, weigh } from './moments.ts';
import { settle } from './settle.ts';
import { REACH, shapeBounds, shapeStarts } from './shape-starts.ts';
import { fullMinusTwoLog, type Likelihood, minusTwoLog, siteVarianceRatio } from './site-variance.ts';
import { type Trial, trialOf } from './trial.ts';

export interface FitOptions {
  /** Figures that are given, not fitted. */
  readonly held?: Held;
}

/** Stands it takes for a curve of its own. */
export const STANDS_FOR_A_CURVE = 3;
/** Rounds of shape and variance in turn. */
const MOST_ROUNDS = 40;
/** The logarithm of the ratio of variances is at rest within this. */
const STILL = 2e-6;
/** Best starts followed to the end: kinks and families of two figures of shape have more than one bottom. */
const FOLLOWED = 2;
/** Starts whose stands differ by less, in logarithms, lead to one bottom. */
const APART = 0.2;
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
    return refuse(`${trial.plots} plots are too few for ${k} figures: nothing is left to judge them by`);
  if (!start(work, figures, family, apart ? 1 : 0))
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
    minusTwoLogLikelihood: full.cost,
    aicc: spare > 0 ? full.cost + 2 * parameters + (2 * parameters * (parameters + 1)) / spare : Infinity,
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
  return {
    ...{ family, reference_buPerAc, figures, covariance, withinDf, trial, curve_buPerAc, residual_buPerAc },
    fitted: Array.from(active).sort(),
    plotSd_buPerAc: Math.sqrt(variance),
    siteSd_buPerAc: Math.sqrt(variance * found.ratio),
    ratio: found.ratio,
    betweenDf: apart ? trial.sites - 1 - (active.includes(LEVEL_PER_ENVIRONMENT) ? 1 : 0) : withinDf,
    minusTwoLogLikelihood: likely.minusTwoLogLikelihood,
    aicc: likely.aicc,
    converged: found.converged,
    doubts: [...likely.said, ...fitDoubts(trial, family, figures, apart, found.converged)],
  };
}

function refusalOf({ plots, stands, y }: Trial, family: FamilyId, held: Held): string | null {
  if (plots === 0) return 'no plot has both a stand and a yield';
  if (held.stand_k === undefined) {
    const needed = family === 'line' ? 2 : STANDS_FOR_A_CURVE;
    if (stands < needed)
      return `${stands} ${stands === 1 ? 'stand was' : 'stands were'} tried, a curve takes ${needed}`;
    if (y.every((own) => own === y[0])) return 'all yields are the same';
  }
  return null;
}

/** The best of the shapes gone through, followed to the bottom. */
function start(work: FitWork, figures: Float64Array, family: FamilyId, ratio: number): boolean {
  if (!work.shape.includes(STAND)) return !Number.isNaN(findShape(work, figures, ratio, NEAR).rss);
  const found = shapeStarts(family, work.trial).flatMap(([stand, bend]) => {
    const own = figures.slice();
    own[STAND] = stand;
    if (work.shape.includes(BEND)) own[BEND] = bend;
    const rss = settle(work, own, ratio);
    return Number.isNaN(rss) ? [] : [{ own, rss }];
  });
  found.sort((a, b) => a.rss - b.rss);
  let least = Infinity;
  const followed: number[] = [];
  for (const { own } of found) {
    if (followed.length === FOLLOWED) break;
    const stand = own[STAND];
    if (followed.some((other) => Math.abs(Math.log(other / stand)) < APART)) continue;
    followed.push(stand);
    const { rss } = findShape(work, own, ratio, NEAR);
    if (!(rss < least)) continue;
    least = rss;
    figures.set(own);
  }
  return least < Infinity;
}

/** Shape and variances in turn until both are at rest. Leaves moments, residuals and weighted normal equations of all figures in `work`. No `kind` where sites are not told apart. */
function balance(
  work: FitWork,
  figures: Float64Array,
  kind: Likelihood | null,
  from: number | null,
  rest: number,
): { ratio: number; rss: number; cost: number; converged: boolean } | null {
  let ratio = NaN;
  let near = from;
  let atRest = false;
  let converged = false;
  for (let round = 0; ; round++) {
    if (!fillColumns(work, figures, true)) return null;
    takeMoments(work.trial, work.columns, work.active, work.residuals, work.moments);
    if (atRest || round === MOST_ROUNDS) break;
    const next = kind === null ? 0 : siteVarianceRatio(work, kind, near);
    atRest = next === ratio || Math.abs(Math.log(next / ratio)) < STILL;
    ratio = near = next;
    converged = findShape(work, figures, ratio, rest).converged;
  }
  if (!Number.isFinite(minusTwoLog(work, ratio, kind ?? 'full'))) return null;
  weigh(work.trial, work.moments, ratio, work.normal);
  const width = work.active.length + 1;
  const rss = work.normal[width * width - 1];
  return { ratio, rss, cost: fullMinusTwoLog(work.trial, ratio, rss), converged: converged && atRest };
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

/** What makes a fitted curve no curve of this family: its own doubt, or a shape at the end of what was looked at. */
function wrongWith(
  { trial, bounds, shape }: FitWork,
  figures: Float64Array,
  family: FamilyId,
): string | null {
  const { hasOptimum, stand: word } = FAMILIES[family];
  const curve = curveAway(family, figures, 0);
  if (!(curve.level > 0)) return 'its level would be no yield at all';
  if (family === 'linear-plateau' && shape.includes(STAND)) {
    if (!(figures[STAND] < trial.tested_k.max)) return 'the plots show no plateau';
    if (!(figures[STAND] > trial.tested_k.min)) return 'the plots show nothing but a plateau';
  }
  const doubt = curveDoubt(curve);
  if (doubt !== null) return doubt;
  for (const at of shape) {
    const bound = bounds.get(at);
    if (!bound) continue;
    const size = 1e-6 * (bound[1] - bound[0]);
    if (figures[at] > bound[1] - size)
      return at === STAND
        ? `its ${word} would lie beyond ${REACH} times the densest tried: the plots show no bend to speak of`
        : 'the plots do not tell its bend';
    if (figures[at] < bound[0] + (at === STAND ? 1e-9 : 1e-6) * bound[0])
      return at === STAND
        ? `its ${word} would lie far under the thinnest tried`
        : 'the plots do not tell its bend';
  }
  return hasOptimum && !Number.isFinite(agronomicOptimum(curve)) ? 'it has no best stand' : null;
}
