import { cholesky, solveByCholesky } from '../../math/cholesky.ts';
import type { FamilyFit } from './family-fit.ts';
import { fillColumns, workOn } from './fit-work.ts';
import { takeMoments, weigh } from './moments.ts';
import { shapeBounds } from './shape-starts.ts';

export interface Influence {
  /** By plot as given, NaN for one that does not count: share of its own yield in its fitted one. */
  readonly leverage: Float64Array;
  /** By plot as given: Cook's distance, how far the figures move without it. */
  readonly cook: Float64Array;
  /** The same by site: its number as given, and how far the figures move without it. */
  readonly site: Uint32Array;
  readonly cookOfSite: Float64Array;
}

/**
 * Which plots and sites a fit hangs on: Cook's distance (1977, Technometrics 19:15) of plots and of sites (Cook & Weisberg 1982, Residuals and Influence in Regression, 3.6) on the data as the fit weighs
 * them, the curve taken as a plane at its figures: one step, no refitting.
 */
export function influenceOf(fit: FamilyFit): Influence {
  const { trial, ratio, plotSd_buPerAc } = fit;
  const work = workOn(trial, fit.family, fit.fitted, shapeBounds(fit.family, trial));
  const { active, columns, residuals, moments, normal } = work;
  const k = active.length;
  fillColumns(work, Float64Array.from(fit.figures), true);
  takeMoments(trial, columns, active, moments);
  weigh(trial, moments, ratio, normal);
  const whole = Float64Array.from({ length: k * k }, (_, at) => {
    const [a, b] = [Math.floor(at / k), at % k];
    return normal[Math.max(a, b) * (k + 1) + Math.min(a, b)];
  });
  const factor = whole.slice();
  cholesky(factor, k);
  const rows = fit.curve_buPerAc.length;
  const leverage = new Float64Array(rows).fill(NaN);
  const cook = new Float64Array(rows).fill(NaN);
  const cookOfSite = new Float64Array(trial.sites);
  const own = new Float64Array(k);
  for (let j = 0; j < trial.sites; j++) {
    const [from, to] = [trial.start[j], trial.start[j + 1]];
    // A share of the site's mean is taken from each plot; what is left are independent rows.
    const share = 1 - 1 / Math.sqrt(1 + (to - from) * ratio);
    const mean = (column: Float64Array, at: number) => {
      let sum = 0;
      for (let i = from; i < to; i++) sum += column[at + i];
      return (share * sum) / (to - from);
    };
    const means = Float64Array.from(active, (at) => mean(columns, at * trial.plots));
    const meanResidual = mean(residuals, 0);
    const without = whole.slice();
    const down = new Float64Array(k);
    for (let i = from; i < to; i++) {
      const rest = residuals[i] - meanResidual;
      const x = means.map((taken, a) => columns[active[a] * trial.plots + i] - taken);
      own.set(x);
      solveByCholesky(factor, k, own);
      let h = 0;
      for (let a = 0; a < k; a++) {
        h += own[a] * x[a];
        down[a] += x[a] * rest;
        for (let b = 0; b < k; b++) without[a * k + b] -= x[a] * x[b];
      }
      leverage[trial.row[i]] = h;
      cook[trial.row[i]] = (rest * rest * h) / (k * plotSd_buPerAc ** 2 * (1 - h) ** 2);
    }
    cookOfSite[j] = moved(without, whole, down, k) / (k * plotSd_buPerAc ** 2);
  }
  return { leverage, cook, site: trial.siteGiven, cookOfSite };
}

/** δᵀMδ where δ is how far the figures move when the rows behind `down` go; Infinity where they cannot be had without them. */
function moved(without: Float64Array, whole: Float64Array, down: Float64Array, k: number): number {
  if (!cholesky(without, k)) return Infinity;
  solveByCholesky(without, k, down);
  let sum = 0;
  for (let a = 0; a < k; a++) for (let b = 0; b < k; b++) sum += down[a] * whole[a * k + b] * down[b];
  return sum;
}
