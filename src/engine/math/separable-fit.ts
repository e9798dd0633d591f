import { factorise, inverseOfSquare, type Qr, rotate, rotateBack, solve } from './qr.ts';

/**
 * y ≈ Σ cₖ·φₖ(ν): the coefficients c are linear, the shape ν is not. Least squares over both.
 */
export interface SeparableProblem {
  readonly y: Float64Array;
  /** How many coefficients. */
  readonly linear: number;
  /** Writes the columns φₖ(ν), each as long as y. */
  basis(nonlinear: Float64Array, columns: readonly Float64Array[]): void;
  /** Shapes to start from, at least one; of length 0 where nothing is nonlinear. */
  readonly starts: readonly (readonly number[])[];
  /** Least and most of each figure of the shape. */
  readonly bounds?: readonly (readonly [least: number, most: number])[];
}

export interface SeparableFit {
  readonly linear: Float64Array;
  readonly nonlinear: Float64Array;
  /** Residual sum of squares and its degrees of freedom. */
  readonly rss: number;
  readonly df: number;
  readonly residuals: Float64Array;
  /** (JᵀJ)⁻¹ of all figures, coefficients first, row by row: times rss / df their covariance. NaN for a figure the data do not tell. */
  readonly unscaled: Float64Array;
  /** False where steps ran out before the shape came to rest. */
  readonly converged: boolean;
  readonly steps: number;
}

const MOST_STEPS = 400;
/** At rest: the share of what is left that a step could still take away, squared cosine of residuals and Jacobian. */
const REST = 1e-22;
/** Where no step is better, more than this says that the slopes are not to be believed. */
const BOTTOM = 1e-6;
/** A step that moves no figure by more than this share. */
const STILL = 1e-13;
/** Central differences are best near the cube root of a rounding. */
const DIFFERENCE = 6e-6;

/**
 * Variable projection (Golub & Pereyra 1973, SIAM Journal on Numerical Analysis 10:413) with Kaufman's Jacobian (1975, BIT 15:49): for any shape the best coefficients follow by
 * least squares, so only the shape is searched for, by Levenberg's and Marquardt's steps (Moré 1978). Deterministic; the best of all starts, which are tried in turn. Shapes of which the
 * columns are not numbers are never entered.
 */
export function fitSeparable(problem: SeparableProblem): SeparableFit {
  const state = workOn(problem);
  let best: Search | null = null;
  for (const start of problem.starts) {
    const found = search(problem, state, Float64Array.from(start));
    if (found && (best === null || found.rss < best.rss)) best = found;
  }
  if (best === null) throw new Error('no start of a separable fit gives numbers');
  return finish(problem, state, best);
}

interface Work {
  readonly n: number;
  readonly shape: number;
  readonly columns: Float64Array[];
  readonly matrix: Float64Array;
  readonly jacobian: Float64Array;
}

interface Point {
  readonly nonlinear: Float64Array;
  readonly linear: Float64Array;
  readonly qr: Qr;
  readonly residuals: Float64Array;
  readonly rss: number;
}

interface Search extends Point {
  readonly converged: boolean;
  readonly steps: number;
}

function workOn({ y, linear, starts }: SeparableProblem): Work {
  const n = y.length;
  const shape = starts[0].length;
  return {
    n,
    shape,
    columns: Array.from({ length: linear }, () => new Float64Array(n)),
    matrix: new Float64Array(n * linear),
    jacobian: new Float64Array((n + shape) * shape),
  };
}

/** The best coefficients for a shape; null where its columns are not numbers. */
function at(problem: SeparableProblem, { n, columns, matrix }: Work, nonlinear: Float64Array): Point | null {
  problem.basis(nonlinear, columns);
  for (let k = 0; k < columns.length; k++) matrix.set(columns[k], k * n);
  for (let i = 0; i < matrix.length; i++) if (!Number.isFinite(matrix[i])) return null;
  const qr = factorise(matrix.slice(), n, columns.length);
  const residuals = problem.y.slice();
  rotate(qr, residuals);
  const linear = solve(qr, residuals);
  residuals.fill(0, 0, qr.rank);
  rotateBack(qr, residuals);
  let rss = 0;
  for (let i = 0; i < n; i++) rss += residuals[i] * residuals[i];
  return Number.isFinite(rss) ? { nonlinear, linear, qr, residuals, rss } : null;
}

function search(problem: SeparableProblem, work: Work, start: Float64Array): Search | null {
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
      const held = atBound(point.nonlinear[j], Math.sign(along), problem.bounds?.[j]);
      if (length2 > 0 && point.rss > 0 && !held)
        cosine = Math.max(cosine, (along * along) / (length2 * point.rss));
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
    if (better === null) return { ...point, converged: cosine < BOTTOM, steps };
    point = better;
    damping = Math.max(1e-16, damping / 8);
  }
  return { ...point, converged: false, steps };
}

/** ∂(Σ cₖ·φₖ)/∂νⱼ by central differences, column-major; null where a neighbouring shape gives no numbers. */
function slopes(problem: SeparableProblem, { n, shape, columns }: Work, point: Point): Float64Array | null {
  const out = new Float64Array(n * shape);
  const beside = point.nonlinear.slice();
  for (let j = 0; j < shape; j++) {
    const own = point.nonlinear[j];
    const reach = DIFFERENCE * (Math.abs(own) || 1);
    const [least, most] = problem.bounds?.[j] ?? [-Infinity, Infinity];
    const [low, high] = [Math.max(least, own - reach), Math.min(most, own + reach)];
    for (const [side, sign] of [
      [high, 1],
      [low, -1],
    ]) {
      beside[j] = side;
      problem.basis(beside, columns);
      for (let k = 0; k < columns.length; k++) {
        const share = (sign * (Number.isNaN(point.linear[k]) ? 0 : point.linear[k])) / (high - low);
        for (let i = 0; i < n; i++) out[j * n + i] += share * columns[k][i];
      }
    }
    beside[j] = own;
  }
  return out.every(Number.isFinite) ? out : null;
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

/** The covariance of all figures, from the whole Jacobian. */
function finish(problem: SeparableProblem, work: Work, found: Search): SeparableFit {
  const { n, shape, columns } = work;
  const all = columns.length + shape;
  const moving = shape === 0 ? new Float64Array(0) : slopes(problem, work, found);
  problem.basis(found.nonlinear, columns);
  const matrix = new Float64Array(n * all);
  for (const [k, column] of columns.entries()) matrix.set(column, k * n);
  if (moving) matrix.set(moving, columns.length * n);
  const { linear, nonlinear, rss, residuals, converged, steps } = found;
  return {
    ...{ linear, nonlinear, rss, residuals, converged, steps },
    df: n - all,
    unscaled: inverseOfSquare(factorise(matrix, n, all)),
  };
}
