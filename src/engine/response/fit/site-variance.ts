import { logDeterminant, partialCholesky } from '../../math/cholesky.ts';
import type { FitWork } from './fit-work.ts';
import { weigh } from './moments.ts';
import type { Trial } from './trial.ts';

/** Natural logarithms of the ratios looked at. */
const LEAST = -9;
const MOST = 9;
const STRIDE = 2;
/** To either side of a ratio known from before. */
const NEARBY = 0.3;
const GOLDEN = (Math.sqrt(5) - 1) / 2;
/** How close the logarithm of the ratio is found. */
const CLOSE = 3e-7;

export type Likelihood = 'full' | 'restricted';

/**
 * The ratio of the variance between sites to that between plots of a site which the plots make likeliest, given columns and residuals in the moments of `work`: the likelihood of the curve
 * taken as a plane at its figures (Lindstrom & Bates 1990, Biometrics 46:673), full or restricted (Patterson & Thompson 1971, Biometrika 58:545). 0 where sites do not differ beyond their plots. Looked for
 * first beside `near` where that is given.
 */
export function siteVarianceRatio(work: FitWork, kind: Likelihood, near: number | null): number {
  const cost = (log: number) => minusTwoLog(work, Math.exp(log), kind);
  const log = leastBeside(
    cost,
    near !== null && near > 0 ? bracketNear(cost, Math.log(near)) : bracket(cost),
  );
  return minusTwoLog(work, 0, kind) <= cost(log) ? 0 : Math.exp(log);
}

type Bracket = readonly [low: number, middle: number, high: number];

function bracket(cost: (log: number) => number): Bracket {
  let best = LEAST;
  let least = Infinity;
  for (let log = LEAST; log <= MOST; log += STRIDE) {
    const own = cost(log);
    if (own < least) [best, least] = [log, own];
  }
  return [best - STRIDE, best, best + STRIDE];
}

/** Around a ratio that was the likeliest before the shape moved a little. */
function bracketNear(cost: (log: number) => number, log: number): Bracket {
  const own = cost(log);
  const [low, high] = [log - NEARBY, log + NEARBY];
  return cost(low) > own && cost(high) > own ? [low, log, high] : bracket(cost);
}

/** Brent 1973, Algorithms for Minimization without Derivatives, chapter 5: parabolas, golden sections where they lead astray. */
function leastBeside(cost: (log: number) => number, [from, middle, to]: Bracket): number {
  let [low, high] = [from, to];
  let [x, w, v] = [middle, middle, middle];
  let fx = cost(x);
  let [fw, fv] = [fx, fx];
  let [move, before] = [0, 0];
  for (let k = 0; k < 60; k++) {
    const half = (low + high) / 2;
    if (Math.abs(x - half) <= 2 * CLOSE - (high - low) / 2) break;
    const r = (x - w) * (fx - fv);
    let q = (x - v) * (fx - fw);
    let p = (x - v) * q - (x - w) * r;
    q = 2 * (q - r);
    if (q > 0) p = -p;
    q = Math.abs(q);
    if (
      Math.abs(before) > CLOSE &&
      Math.abs(p) < Math.abs(0.5 * q * before) &&
      p > q * (low - x) &&
      p < q * (high - x)
    ) {
      before = move;
      move = p / q;
    } else {
      before = x < half ? high - x : low - x;
      move = (1 - GOLDEN) * before;
    }
    const u = x + (Math.abs(move) >= CLOSE ? move : Math.sign(move) * CLOSE || CLOSE);
    const fu = cost(u);
    if (fu <= fx) {
      if (u < x) high = x;
      else low = x;
      [v, fv, w, fw, x, fx] = [w, fw, x, fx, u, fu];
    } else {
      if (u < x) low = u;
      else high = u;
      if (fu <= fw || w === x) [v, fv, w, fw] = [w, fw, u, fu];
      else if (fu <= fv || v === x || v === w) [v, fv] = [u, fu];
    }
  }
  return x;
}

/** −2 log likelihood at a ratio, the variance between plots at its best: in full, or restricted but for a constant. */
export function minusTwoLog(work: FitWork, ratio: number, kind: Likelihood): number {
  const { trial, active, moments, factor } = work;
  const k = active.length;
  const width = k + 1;
  weigh(trial, moments, ratio, factor);
  if (!partialCholesky(factor, width, k)) return Infinity;
  const rss = factor[k * width + k];
  if (kind === 'full') return fullMinusTwoLog(trial, ratio, rss);
  return (trial.plots - k) * Math.log(rss) + logOfSites(trial, ratio) + logDeterminant(factor, k, width);
}

/** In full, of so many weighted squares. */
export function fullMinusTwoLog(trial: Trial, ratio: number, rss: number): number {
  const n = trial.plots;
  return n * (Math.log((2 * Math.PI * rss) / n) + 1) + logOfSites(trial, ratio);
}

function logOfSites({ bySize: { plots, sites } }: Trial, ratio: number): number {
  let sum = 0;
  for (let g = 0; g < plots.length; g++) sum += sites[g] * Math.log1p(plots[g] * ratio);
  return sum;
}
