import { cholesky, solveByCholesky } from '../../math/cholesky.ts';
import { STAND } from './figures.ts';
import { type FitWork, fillColumns } from './fit-work.ts';
import { takeMoments, weigh } from './moments.ts';

const MOST_STEPS = 30;
const MOST_TRIES = 7;
/** How much harder damping gets from try to try. */
const HARDER = 50;
/** At rest: the share of the weighted residual squares a step could still take away, for comparing and for the last digits. */
export const NEAR = 1e-9;
export const AT_REST = 1e-19;
/** A step that takes away less than this is taken unseen: rounding hides what it does. */
const UNSEEN = 1e-12;
/** Where no step is better, more than this says the slopes are not to be believed. */
const BOTTOM = 1e-7;
/** Damping begins here and never falls under it, so that it is soon up where a kink asks for it. */
const LEAST_DAMPING = 1e-6;
/** How far to either side a kink is looked for, as a share of the figure. */
const BESIDE = 1e-5;

/** Sets the linear figures to the best for this shape. The weighted sum of squared residuals left, NaN where there is none. */
export function settle(work: FitWork, figures: Float64Array, ratio: number): number {
  const { trial, columns, linear, residuals, moments, normal, step } = work;
  if (!fillColumns(work, figures, false)) return NaN;
  takeMoments(trial, columns, linear, residuals, moments);
  weigh(trial, moments, ratio, normal);
  const k = linear.length;
  const left = normal[k * (k + 1) + k];
  if (k === 0) return left;
  if (!solveNormal(work, k, 0, 0)) return NaN;
  let taken = 0;
  for (let a = 0; a < k; a++) {
    figures[linear[a]] += step[a];
    taken += step[a] * normal[k * (k + 1) + a];
  }
  return Math.max(0, left - taken);
}

/**
 * The shape of least weighted squares from the one in `figures`, which are changed: variable projection (Golub & Pereyra 1973, SIAM Journal on Numerical Analysis 10:413) with Kaufman's
 * Jacobian (1975, BIT 15:49), damped as by Levenberg and Marquardt, on the normal equations of the few figures a curve has.
 */
export function findShape(
  work: FitWork,
  figures: Float64Array,
  ratio: number,
  rest: number,
): { readonly rss: number; readonly converged: boolean } {
  const { trial, columns, linear, shape, active, residuals, moments, normal, kept, step, tried } = work;
  let rss = settle(work, figures, ratio);
  if (Number.isNaN(rss) || shape.length === 0) return { rss, converged: !Number.isNaN(rss) };
  const k = active.length;
  let damping = LEAST_DAMPING;
  for (let steps = 0; steps < MOST_STEPS; steps++) {
    if (!fillColumns(work, figures, true)) return { rss, converged: false };
    takeMoments(trial, columns, active, residuals, moments);
    weigh(trial, moments, ratio, normal);
    // Trying steps overwrites the normal equations.
    kept.set(normal);
    let better = false;
    let promise = NaN;
    for (let tries = 0; tries < MOST_TRIES && !better; tries++) {
      normal.set(kept);
      if (!solveNormal(work, k, linear.length, damping)) {
        damping *= HARDER;
        continue;
      }
      promise = 0;
      for (let a = linear.length; a < k; a++) promise += step[a] * kept[k * (k + 1) + a];
      if (!(promise > rest * rss)) return { rss, converged: true };
      tried.set(figures);
      const share = shareOfStep(work, figures);
      let still = true;
      for (let a = linear.length; a < k; a++) {
        const at = active[a];
        tried[at] = within(work, at, figures[at] + share * step[a]);
        still &&= tried[at] === figures[at];
      }
      if (still) return { rss, converged: true };
      const there = settle(work, tried, ratio);
      if (promise < UNSEEN * rss && there <= rss * (1 + UNSEEN)) {
        figures.set(tried);
        return { rss: there, converged: true };
      }
      if (there < rss) {
        better = true;
        rss = there;
        figures.set(tried);
      } else damping *= HARDER;
    }
    if (!better) return { rss, converged: promise < BOTTOM * rss || isLowest(work, figures, ratio, rss) };
    damping = Math.max(LEAST_DAMPING, damping / HARDER);
  }
  return { rss, converged: false };
}

/** Whether no figure of the shape gives less a little to either side: the bottom of a kink, where slopes do not vanish. */
function isLowest(work: FitWork, figures: Float64Array, ratio: number, rss: number): boolean {
  for (const at of work.shape) {
    for (const side of [-BESIDE, BESIDE]) {
      work.tried.set(figures);
      work.tried[at] = within(work, at, figures[at] + side * (Math.abs(figures[at]) || 1));
      if (settle(work, work.tried, ratio) < rss * (1 - 1e-9)) return false;
    }
  }
  return true;
}

/** A step that moves the stand by more than a third is cut: far off the plots all shapes are alike, and there is no way back. */
function shareOfStep({ active, linear, step }: FitWork, figures: Float64Array): number {
  for (let a = linear.length; a < active.length; a++)
    if (active[a] === STAND) return Math.min(1, figures[STAND] / (3 * Math.abs(step[a])));
  return 1;
}

function within({ bounds }: FitWork, at: number, value: number): number {
  const bound = bounds.get(at);
  return bound ? Math.min(bound[1], Math.max(bound[0], value)) : value;
}

/** Solves the normal equations in `normal`, right-hand side in its last row, into `step`; figures from `damped` on are held back. */
function solveNormal({ normal, factor, step }: FitWork, k: number, damped: number, damping: number): boolean {
  const width = k + 1;
  for (let a = 0; a < k; a++) {
    for (let b = 0; b <= a; b++) factor[a * k + b] = normal[a * width + b];
    if (a >= damped) factor[a * k + a] *= 1 + damping;
    step[a] = normal[k * width + a];
  }
  if (!cholesky(factor, k)) return false;
  solveByCholesky(factor, k, step);
  return true;
}
