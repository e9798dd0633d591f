import { STAND, STAND_PER_ENVIRONMENT } from './figures.ts';
import type { FitWork } from './fit-work.ts';
import { settle } from './settle.ts';
import { fallOnPlane, planeAt, stepOnPlane } from './shape-plane.ts';

const MOST_STEPS = 30;
const MOST_TRIES = 12;
/** Damping begins here and never falls under the least, so that it is soon up where a kink asks for it. */
const DAMPING = 1e-3;
const LEAST_DAMPING = 1e-8;
/** So many steps in turn that take away less than they are asked for lead nowhere, whatever they promise. */
const IDLE = 3;
/** At rest: the share of the weighted residual squares a step could still take away, for comparing and for the last digits. */
export const NEAR = 1e-9;
export const AT_REST = 1e-19;
/** A step that takes away less than this is taken unseen: rounding hides what it does. */
const UNSEEN = 1e-12;
/** Where no step is better, more than this says the slopes are not to be believed. */
const BOTTOM = 1e-7;
/** How far to either side a kink is looked for, as a share of the figure. */
const BESIDE = 1e-5;

/**
 * The shape of least weighted squares from the one in `figures`, which are changed: variable projection (Golub & Pereyra 1973, SIAM Journal on Numerical Analysis 10:413) with Kaufman's
 * Jacobian (1975, BIT 15:49) by the steps of Levenberg and Marquardt, damped by what the last step kept of its promise (Nielsen 1999, Technical University of Denmark, IMM-REP-1999-05).
 */
export function findShape(
  work: FitWork,
  figures: Float64Array,
  ratio: number,
  rest: number,
): { readonly rss: number; readonly converged: boolean } {
  const { tried } = work;
  let rss = settle(work, figures, ratio);
  if (Number.isNaN(rss) || work.shape.length === 0) return { rss, converged: !Number.isNaN(rss) };
  let damping = DAMPING;
  let lastUnseen = Infinity;
  let idle = 0;
  for (let steps = 0; steps < MOST_STEPS; steps++) {
    if (!planeAt(work, figures, ratio)) return { rss, converged: false };
    const promise = stepOnPlane(work, 0);
    if (!(promise > rest * rss)) return { rss, converged: true };
    if (promise < UNSEEN * rss) {
      // Rounding hides whether it is better: as long as what is promised falls fast it is.
      if (promise > lastUnseen / 4) return { rss, converged: true };
      lastUnseen = promise;
      moveBy(work, figures, tried);
      const there = settle(work, tried, ratio);
      if (!(there <= rss * (1 + UNSEEN))) return { rss, converged: true };
      figures.set(tried);
      rss = there;
      continue;
    }
    let better = false;
    let harder = 2;
    for (let tries = 0; tries < MOST_TRIES && !better; tries++) {
      stepOnPlane(work, damping);
      if (!moveBy(work, figures, tried)) return { rss, converged: true };
      const promised = fallOnPlane(work, figures, tried);
      const there = settle(work, tried, ratio);
      better = there < rss;
      if (better) {
        const kept = (rss - there) / promised;
        idle = rss - there > rest * rss ? 0 : idle + 1;
        damping = Math.max(LEAST_DAMPING, damping * Math.max(0.1, 1 - (2 * kept - 1) ** 3));
        rss = there;
        figures.set(tried);
      } else {
        damping *= harder;
        harder *= 2;
      }
    }
    if (idle === IDLE) return { rss, converged: false };
    if (!better) return { rss, converged: promise < BOTTOM * rss || isLowest(work, figures, ratio, rss) };
  }
  return { rss, converged: false };
}

/** Figures moved by the step, as far as is sound, into `moved`. False where nothing moves. */
function moveBy(work: FitWork, figures: Float64Array, moved: Float64Array): boolean {
  const { shape, step } = work;
  const share = shareOfStep(work, figures);
  let moves = false;
  moved.set(figures);
  for (let a = 0; a < shape.length; a++) {
    const at = shape[a];
    moved[at] = within(work, at, figures[at] + share * step[a]);
    moves ||= moved[at] !== figures[at];
  }
  return moves;
}

/** A step that moves the stand by more than a third on any ground tried is cut: far off the plots all shapes are alike, and there is no way back. */
function shareOfStep({ trial, shape, step }: FitWork, figures: Float64Array): number {
  let [stand, perEnvironment] = [0, 0];
  for (let a = 0; a < shape.length; a++) {
    if (shape[a] === STAND) stand = step[a];
    if (shape[a] === STAND_PER_ENVIRONMENT) perEnvironment = step[a];
  }
  const shareAt = (away: number) =>
    (figures[STAND] + figures[STAND_PER_ENVIRONMENT] * away) / (3 * Math.abs(stand + perEnvironment * away));
  const { min, max } = trial.tested_away;
  return Math.min(1, shareAt(min), shareAt(max), shareAt(0));
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

function within({ bounds }: FitWork, at: number, value: number): number {
  const bound = bounds.get(at);
  return bound ? Math.min(bound[1], Math.max(bound[0], value)) : value;
}
