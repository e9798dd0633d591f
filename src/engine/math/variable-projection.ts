import { factorise, type Qr, rotate, rotateBack, solve } from './qr.ts';

/** y ≈ φ₀(ν) + Σ cₖ·φₖ(ν): the coefficients c are linear, the shape ν is not. Least squares over both. */
export interface SeparableProblem {
  readonly y: Float64Array;
  /** How many coefficients. */
  readonly linear: number;
  /** Writes the columns φₖ(ν), each as long as y. */
  basis(nonlinear: Float64Array, columns: readonly Float64Array[]): void;
  /** Writes φ₀(ν), which has no coefficient of its own; nothing where there is none. */
  fixed?(nonlinear: Float64Array, column: Float64Array): void;
  /** Shapes to start from, at least one; of length 0 where nothing is nonlinear. */
  readonly starts: readonly (readonly number[])[];
  /** Least and most of each figure of the shape. */
  readonly bounds?: readonly (readonly [least: number, most: number])[];
}

/** Central differences are best near the cube root of a rounding. */
const DIFFERENCE = 6e-6;

export interface Work {
  readonly n: number;
  readonly shape: number;
  readonly columns: Float64Array[];
  readonly fixed: Float64Array;
  readonly matrix: Float64Array;
  readonly jacobian: Float64Array;
}

export interface Point {
  readonly nonlinear: Float64Array;
  readonly linear: Float64Array;
  readonly qr: Qr;
  readonly residuals: Float64Array;
  readonly rss: number;
}

export function workOn({ y, linear, starts }: SeparableProblem): Work {
  const n = y.length;
  const shape = starts[0].length;
  return {
    n,
    shape,
    columns: Array.from({ length: linear }, () => new Float64Array(n)),
    fixed: new Float64Array(n),
    matrix: new Float64Array(n * linear),
    jacobian: new Float64Array((n + shape) * shape),
  };
}

/** The best coefficients for a shape; null where its columns are not numbers. */
export function at(problem: SeparableProblem, work: Work, nonlinear: Float64Array): Point | null {
  const { n, columns, fixed, matrix } = work;
  problem.basis(nonlinear, columns);
  for (let k = 0; k < columns.length; k++) matrix.set(columns[k], k * n);
  for (let i = 0; i < matrix.length; i++) if (!Number.isFinite(matrix[i])) return null;
  const qr = factorise(matrix.slice(), n, columns.length);
  const residuals = problem.y.slice();
  problem.fixed?.(nonlinear, fixed);
  for (let i = 0; i < n; i++) residuals[i] -= fixed[i];
  rotate(qr, residuals);
  const linear = solve(qr, residuals);
  residuals.fill(0, 0, qr.rank);
  rotateBack(qr, residuals);
  let rss = 0;
  for (let i = 0; i < n; i++) rss += residuals[i] * residuals[i];
  return Number.isFinite(rss) ? { nonlinear, linear, qr, residuals, rss } : null;
}

/** ∂(φ₀ + Σ cₖ·φₖ)/∂νⱼ by central differences, column-major; null where a neighbouring shape gives no numbers. */
export function slopes(problem: SeparableProblem, work: Work, point: Point): Float64Array | null {
  const { n, shape, columns, fixed } = work;
  const out = new Float64Array(n * shape);
  const shifted = point.nonlinear.slice();
  for (let j = 0; j < shape; j++) {
    const own = point.nonlinear[j];
    const [low, high] = beside(own, problem.bounds?.[j]);
    for (const [side, sign] of [
      [high, 1],
      [low, -1],
    ]) {
      shifted[j] = side;
      problem.basis(shifted, columns);
      if (problem.fixed) {
        problem.fixed(shifted, fixed);
        for (let i = 0; i < n; i++) out[j * n + i] += (sign * fixed[i]) / (high - low);
      }
      for (let k = 0; k < columns.length; k++) {
        const share = (sign * (Number.isNaN(point.linear[k]) ? 0 : point.linear[k])) / (high - low);
        for (let i = 0; i < n; i++) out[j * n + i] += share * columns[k][i];
      }
    }
    shifted[j] = own;
  }
  return out.every(Number.isFinite) ? out : null;
}

/** A figure a little less and a little more, within its range. */
export function beside(
  own: number,
  bound: readonly [number, number] = [-Infinity, Infinity],
): [number, number] {
  const reach = DIFFERENCE * (Math.abs(own) || 1);
  return [Math.max(bound[0], own - reach), Math.min(bound[1], own + reach)];
}
