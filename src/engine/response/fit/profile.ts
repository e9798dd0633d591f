import { cholesky, solveByCholesky } from '../../math/cholesky.ts';
import { slopesOf } from './figure-slopes.ts';
import { FIGURES } from './figures.ts';

const MOST_STEPS = 40;
/** How close an end is found, as a share of the distance to it. */
const CLOSE = 1e-7;
/** How close the squares are, as a share of how much more they may be: a best stand found by halving is not sharper. */
const ENOUGH = 1e-9;

/** Squares that some figures of a curve are fitted by, at their least. */
export interface LeastSquaresFit {
  readonly figures: Float64Array;
  /** Which of the five were fitted, and their covariance, 5 × 5. */
  readonly fitted: readonly number[];
  readonly covariance: Float64Array;
  /** Which of the five the normal equations are of, in their order. */
  readonly active: ArrayLike<number>;
  /** Normal equations at any figures into `normal`: lower triangle, the right-hand side as a last row, the squares in the last corner. False where there are none. */
  normalAt(figures: Float64Array, normal: Float64Array): boolean;
  /** The squares in units of the covariance. */
  readonly variance: number;
}

/**
 * All values of something that follows from the figures at which the squares are no more than `t`² times the variance over their least (Bates & Watts 1988, Nonlinear Regression Analysis and Its Applications, 6.1). An end
 * is looked for as far as `lowest` and `highest`; null where there is none.
 */
export function profile(
  fit: LeastSquaresFit,
  figure: (figures: Float64Array) => number,
  t: number,
  [lowest, highest]: readonly [number, number],
): readonly [low: number | null, high: number | null] {
  const slopes = slopesOf(fit, figure);
  let own = 0;
  for (let a = 0; a < FIGURES; a++)
    for (let b = 0; b < FIGURES; b++) own += slopes[a] * fit.covariance[a * FIGURES + b] * slopes[b];
  if (!(own > 0)) return [null, null];
  const k = fit.active.length;
  const normal = new Float64Array((k + 1) ** 2);
  fit.normalAt(fit.figures, normal);
  const side: Side = {
    ...{ fit, figure, normal },
    value: figure(fit.figures),
    reach: t * Math.sqrt(own),
    limit2: t * t * fit.variance,
    least: normal[normal.length - 1],
    factor: new Float64Array(k * k),
    along: new Float64Array(k),
    forced: new Float64Array(k),
    down: new Float64Array(k),
  };
  return [endOf(side, lowest), endOf(side, highest)];
}

interface Side {
  readonly fit: LeastSquaresFit;
  readonly figure: (figures: Float64Array) => number;
  readonly value: number;
  readonly reach: number;
  readonly limit2: number;
  readonly least: number;
  readonly normal: Float64Array;
  readonly factor: Float64Array;
  readonly along: Float64Array;
  readonly forced: Float64Array;
  readonly down: Float64Array;
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
    if (Math.abs(over) < ENOUGH * limit2) return next;
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

/** How much more the squares are where the figure is held at `held`: Gauss-Newton steps along the held figure, from `figures`, which are changed. NaN where it does not come to rest. */
function profileAt(side: Side, figures: Float64Array, held: number): number {
  const { fit, figure, least, limit2, value, normal, factor, along, forced, down } = side;
  const { active } = fit;
  const k = active.length;
  const width = k + 1;
  const scale = Math.abs(held) + Math.abs(value);
  let before = NaN;
  for (let steps = 0; steps < MOST_STEPS; steps++) {
    if (!fit.normalAt(figures, normal)) return NaN;
    const squares = normal[k * width + k];
    const off = held - figure(figures);
    if (Number.isNaN(off)) return NaN;
    if (Math.abs(off) < 1e-10 * scale && Math.abs(squares - before) <= ENOUGH * limit2)
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
    forced.set(along);
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
