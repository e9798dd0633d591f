import { cholesky, solveByCholesky } from '../../math/cholesky.ts';
import { tQuantile } from '../../math/student-t.ts';
import type { Interval } from './curve-interval.ts';
import type { FamilyFit } from './family-fit.ts';
import { slopesOf } from './figure-slopes.ts';
import { FIGURES } from './figures.ts';
import { type FitWork, fillColumns, workOn } from './fit-work.ts';
import { takeMoments, weigh } from './moments.ts';
import { shapeBounds } from './shape-starts.ts';

/** An end further off than so many times the densest stand is no end: the plots do not tell it. */
const NO_END = 50;
/** Nor one this near to no plants at all, as a share of the thinnest. */
const NONE = 1e-3;
const MOST_STEPS = 40;
/** How close an end is found, as a share of the distance to it. */
const CLOSE = 1e-7;

/**
 * The interval of a stand that follows from the figures (the best one on some ground, say), by the profile of the likelihood: all values at which the curve that has it there fits no worse than F
 * allows (Bates & Watts 1988, Nonlinear Regression Analysis and Its Applications, 6.1), the ratio of variances as fitted, degrees of freedom those within sites. For a quadratic this is Fieller's interval. Ends the
 * plots do not tell are infinite.
 */
export function profileInterval(
  fit: FamilyFit,
  figure: (figures: Float64Array) => number,
  level = 0.95,
): Interval {
  const value = figure(fit.figures);
  if (!Number.isFinite(value)) return { value, low: NaN, high: NaN };
  if (!(fit.withinDf > 0)) return { value, low: -Infinity, high: Infinity };
  const limit = tQuantile((1 + level) / 2, fit.withinDf) * fit.plotSd_buPerAc;
  const slopes = slopesOf(fit, figure);
  let variance = 0;
  for (let a = 0; a < FIGURES; a++)
    for (let b = 0; b < FIGURES; b++) variance += slopes[a] * fit.covariance[a * FIGURES + b] * slopes[b];
  const standardError = Math.sqrt(variance);
  if (!(standardError > 0)) return { value, low: -Infinity, high: Infinity };
  const { min, max } = fit.trial.tested_k;
  const reach = (limit / fit.plotSd_buPerAc) * standardError;
  const work = workOn(fit.trial, fit.family, fit.fitted, shapeBounds(fit.family, fit.trial));
  const least = weightedSquares(work, Float64Array.from(fit.figures), fit.ratio);
  const side = { work, fit, figure, value, reach, limit2: limit * limit, least };
  return {
    value,
    low: endOf(side, NONE * min) ?? -Infinity,
    high: endOf(side, NO_END * max) ?? Infinity,
  };
}

interface Side {
  readonly work: FitWork;
  readonly fit: FamilyFit;
  readonly figure: (figures: Float64Array) => number;
  readonly value: number;
  readonly reach: number;
  readonly limit2: number;
  readonly least: number;
}

/** Where the profile leaves the limit on the way from the value to `last`; null where it does not. */
function endOf(side: Side, last: number): number | null {
  const { fit, value, reach, limit2 } = side;
  const way = Math.sign(last - value);
  if (way === 0) return null;
  let inside = value;
  let atInside = -limit2;
  let figures = Float64Array.from(fit.figures);
  let step = reach;
  let outside = NaN;
  let atOutside = NaN;
  for (let k = 0; k < 60; k++) {
    const next = way > 0 ? Math.min(last, inside + step) : Math.max(last, inside - step);
    const own = Float64Array.from(figures);
    const over = profileAt(side, own, next) - limit2;
    if (Number.isNaN(over)) {
      // Too far in one step, or no curve has its best there.
      step /= 4;
      if (step < 1e-6 * reach) return null;
      continue;
    }
    if (over >= 0) {
      [outside, atOutside] = [next, over];
      break;
    }
    [inside, atInside, figures] = [next, over, own];
    if (next === last) return null;
    step *= 1.7;
  }
  if (Number.isNaN(outside)) return null;
  // Between the two by the secant, halved where one end will not move (Illinois).
  let stuck = 0;
  let [low, atLow, high, atHigh] = [inside, atInside, outside, atOutside];
  for (let k = 0; k < 80 && Math.abs(high - low) > CLOSE * Math.abs(outside - value); k++) {
    let next = high - (atHigh * (high - low)) / (atHigh - atLow);
    if (!((next > low && next < high) || (next < low && next > high)) || k > 40) next = (low + high) / 2;
    const own = Float64Array.from(figures);
    const over = profileAt(side, own, next) - limit2;
    if (Number.isNaN(over)) return null;
    if (Math.abs(over) < 1e-9 * limit2) return next;
    if (over >= 0) {
      [high, atHigh] = [next, over];
      if (stuck > 0) atLow /= 2;
      stuck = 1;
    } else {
      [low, atLow, figures] = [next, over, own];
      if (stuck < 0) atHigh /= 2;
      stuck = -1;
    }
  }
  return (low + high) / 2;
}

/** How much more the weighted squares are where the figure is held at `held`: Gauss-Newton steps along the held figure, from `figures`, which are changed. NaN where it does not come to rest. */
function profileAt({ work, fit, figure, least, value }: Side, figures: Float64Array, held: number): number {
  const { trial, columns, active, moments, normal, factor } = work;
  const k = active.length;
  const width = k + 1;
  const along = new Float64Array(k);
  const down = new Float64Array(k);
  const scale = Math.abs(held) + Math.abs(value);
  let before = NaN;
  for (let steps = 0; steps < MOST_STEPS; steps++) {
    if (!fillColumns(work, figures, true)) return NaN;
    takeMoments(trial, columns, active, moments);
    weigh(trial, moments, fit.ratio, normal);
    const squares = normal[k * width + k];
    const off = held - figure(figures);
    if (Number.isNaN(off)) return NaN;
    if (Math.abs(off) < 1e-10 * scale && Math.abs(squares - before) <= 1e-11 * squares)
      return squares - least;
    before = squares;
    const slopes = slopesOf({ ...fit, figures }, figure);
    // What is held adds to the squares as if it were a plot, which changes nothing where it holds and keeps the equations apart where the plots do not.
    let stiff = 0;
    for (let a = 0; a < k; a++) {
      const own = slopes[active[a]] ** 2;
      if (own > 0) stiff = Math.max(stiff, normal[a * width + a] / own);
    }
    if (!(stiff > 0)) return NaN;
    for (let a = 0; a < k; a++) {
      along[a] = slopes[active[a]];
      down[a] = normal[k * width + a] + stiff * off * along[a];
      for (let b = 0; b <= a; b++) factor[a * k + b] = normal[a * width + b] + stiff * along[a] * along[b];
    }
    if (!cholesky(factor, k)) return NaN;
    const forced = along.slice();
    solveByCholesky(factor, k, down);
    solveByCholesky(factor, k, forced);
    let [short, gain] = [off, 0];
    for (let a = 0; a < k; a++) {
      short -= along[a] * down[a];
      gain += along[a] * forced[a];
    }
    for (let a = 0; a < k; a++) figures[active[a]] += down[a] + (short / gain) * forced[a];
  }
  return NaN;
}

function weightedSquares(work: FitWork, figures: Float64Array, ratio: number): number {
  const { trial, columns, active, moments, normal } = work;
  fillColumns(work, figures, false);
  takeMoments(trial, columns, active, moments);
  weigh(trial, moments, ratio, normal);
  return normal[active.length * (active.length + 1) + active.length];
}
