import { findShape } from './find-shape.ts';
import { type FitWork, fillColumns } from './fit-work.ts';
import { takeMoments, weigh } from './moments.ts';
import { fullMinusTwoLog, type Likelihood, minusTwoLog, siteVarianceRatio } from './site-variance.ts';

/** Rounds of shape and variance in turn. */
const MOST_ROUNDS = 40;
/** The logarithm of the ratio of variances is at rest within this. */
const STILL = 2e-6;
/** So often may the ratio come back to within this of where it was two rounds before: where a figure stands at its bound, shape and ratio may hand each other to and fro for ever. */
const MOST_RETURNS = 2;
const BACK = 1e-3;

/** Shape and variances that suit each other. */
export interface Balance {
  readonly ratio: number;
  /** Weighted squared residuals, and −2 log likelihood in full, of the curve these figures give. */
  readonly rss: number;
  readonly minusTwoLogLikelihood: number;
  readonly converged: boolean;
}

/**
 * Shape and variances in turn until both are at rest; `figures` are changed. No `kind` where sites are not told apart; `from` is a ratio to begin beside, where one is known. Leaves moments, residuals and weighted
 * normal equations of all figures in `work`. Null where the plots do not tell the figures apart.
 */
export function balance(
  work: FitWork,
  figures: Float64Array,
  kind: Likelihood | null,
  from: number | null,
  rest: number,
): Balance | null {
  const { trial, columns, active, moments, normal } = work;
  let ratio = NaN;
  let before = NaN;
  let near = from;
  let returns = 0;
  let atRest = false;
  let converged = false;
  for (let round = 0; ; round++) {
    if (!fillColumns(work, figures, true)) return null;
    takeMoments(trial, columns, active, moments);
    if (atRest || returns > MOST_RETURNS || round === MOST_ROUNDS) break;
    const next = kind === null ? 0 : siteVarianceRatio(work, kind, near);
    atRest = isAlike(next, ratio, STILL);
    if (!atRest && isAlike(next, before, BACK)) returns++;
    before = ratio;
    ratio = near = next;
    converged = findShape(work, figures, ratio, rest).converged;
  }
  if (!Number.isFinite(minusTwoLog(work, ratio, kind ?? 'full'))) return null;
  weigh(trial, moments, ratio, normal);
  const width = active.length + 1;
  const rss = normal[width * width - 1];
  const minusTwoLogLikelihood = fullMinusTwoLog(trial, ratio, rss);
  return { ratio, rss, minusTwoLogLikelihood, converged: converged && atRest };
}

/** Ratios, within a share of each other. */
function isAlike(one: number, other: number, share: number): boolean {
  return one === other || Math.abs(Math.log(one / other)) < share;
}
