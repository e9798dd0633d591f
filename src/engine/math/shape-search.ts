import { factorise, rotate, rotateBack, solve } from './qr.ts';
import { at, beside, type Point, type SeparableProblem, slopes, type Work } from './variable-projection.ts';

const MOST_STEPS = 400;
/** At rest: the share of what is left that a step could still take away, squared cosine of residuals and Jacobian. */
const REST = 1e-22;
/** Where no step is better, more than this says that the slopes are not to be believed. */
const BOTTOM = 1e-6;
/** Share of a slope that is left by rounding alone where the coefficients follow it wholly. */
const FOLLOWED = 1e-9;
/** A step that moves no figure by more than this share. */
const STILL = 1e-13;

export interface Search extends Point {
  readonly converged: boolean;
  readonly steps: number;
}

/** Levenberg's and Marquardt's steps (Moré 1978) from one start; null where it gives no numbers. */
export function search(problem: SeparableProblem, work: Work, start: Float64Array): Search | null {
  let point = at(problem, work, start);
  if (point === null) return null;
  const { n, shape, jacobian } = work;
  if (shape === 0) return { ...point, converged: true, steps: 0 };
  const lengths = new Float64Array(shape);
  let damping = 1e-3;
  let steps = 0;
  for (; steps < MOST_STEPS; steps++) {
    // The part of what moves with the shape that the coefficients cannot follow.
    const moving = slopes(problem, work, point);
    if (moving === null) return { ...point, converged: false, steps };
    let cosine = 0;
    for (let j = 0; j < shape; j++) {
      const own = moving.subarray(j * n, (j + 1) * n);
      let whole2 = 0;
      for (let i = 0; i < n; i++) whole2 += own[i] * own[i];
      rotate(point.qr, own);
      own.fill(0, 0, point.qr.rank);
      rotateBack(point.qr, own);
      let length2 = 0;
      let along = 0;
      for (let i = 0; i < n; i++) {
        length2 += own[i] * own[i];
        along += own[i] * point.residuals[i];
      }
      lengths[j] = Math.max(lengths[j], Math.sqrt(length2));
      const followed = length2 <= FOLLOWED * FOLLOWED * whole2;
      const held = atBound(point.nonlinear[j], Math.sign(along), problem.bounds?.[j]);
      // What stands at its bound, or moves nothing the coefficients cannot follow, is out of the step.
      if (held || followed) own.fill(0);
      else if (point.rss > 0) cosine = Math.max(cosine, (along * along) / (length2 * point.rss));
    }
    if (!(cosine > REST)) return { ...point, converged: true, steps };
    // Damped steps, shorter until one is better.
    let better: Point | null = null;
    let still = false;
    for (let tries = 0; tries < 60 && better === null && !still; tries++) {
      const step = dampedStep(moving, point.residuals, lengths, damping, n, shape, jacobian);
      const next = moved(point.nonlinear, step, problem.bounds);
      still = isStill(point.nonlinear, next);
      const there = still ? null : at(problem, work, next);
      if (there && there.rss < point.rss) better = there;
      else damping *= 4;
    }
    // No step in any reach makes it less: the bottom, as far as rounding shows it, or a place where slopes tell nothing.
    if (better === null)
      return { ...point, converged: cosine < BOTTOM || isKink(problem, work, point), steps };
    point = better;
    damping = Math.max(1e-16, damping / 8);
  }
  return { ...point, converged: false, steps };
}

/** Whether a shape of one figure is at the bottom of a kink, where slopes do not vanish: no better on either side. */
function isKink(problem: SeparableProblem, work: Work, { nonlinear, rss }: Point): boolean {
  if (nonlinear.length !== 1) return false;
  return beside(nonlinear[0], problem.bounds?.[0]).every((side) => {
    const there = at(problem, work, Float64Array.of(side));
    return there !== null && there.rss >= rss;
  });
}

/** The step that makes |J·step − residuals|² + damping·|D·step|² least. */
function dampedStep(
  moving: Float64Array,
  residuals: Float64Array,
  lengths: Float64Array,
  damping: number,
  n: number,
  shape: number,
  matrix: Float64Array,
): Float64Array {
  const rows = n + shape;
  const right = new Float64Array(rows);
  right.set(residuals);
  matrix.fill(0);
  for (let j = 0; j < shape; j++) {
    matrix.set(moving.subarray(j * n, (j + 1) * n), j * rows);
    matrix[j * rows + n + j] = Math.sqrt(damping) * (lengths[j] || 1);
  }
  const qr = factorise(matrix, rows, shape);
  rotate(qr, right);
  return solve(qr, right);
}

function moved(from: Float64Array, step: Float64Array, bounds: SeparableProblem['bounds']): Float64Array {
  return from.map((own, j) => {
    const [least, most] = bounds?.[j] ?? [-Infinity, Infinity];
    return Math.min(most, Math.max(least, own + (Number.isNaN(step[j]) ? 0 : step[j])));
  });
}

/** Whether a figure stands at the end of its range and would go on. */
function atBound(own: number, way: number, bound: readonly [number, number] | undefined): boolean {
  return bound !== undefined && ((way > 0 && own >= bound[1]) || (way < 0 && own <= bound[0]));
}

function isStill(before: Float64Array, after: Float64Array): boolean {
  return before.every((own, j) => Math.abs(after[j] - own) <= STILL * Math.abs(own));
}
