import { cholesky, partialCholesky, solveByCholesky } from '../../math/cholesky.ts';
import { type FitWork, fillColumns } from './fit-work.ts';
import { takeMoments, weigh } from './moments.ts';

/** Share of a column's own squares that is added to what the linear figures leave of them: rounding leaves as much where they follow it wholly. */
const FOLLOWED = 1e-13;

/**
 * The weighted squares by the shape alone about `figures`, the curve taken as a plane and the linear figures following (Kaufman 1975, BIT 15:49): their bend into `bend` of the work, lower triangle, half their fall into
 * `fall`. Figures that stand at a bound and would leave it are held there. False where the curve is no number.
 */
export function planeAt(work: FitWork, figures: Float64Array, ratio: number): boolean {
  const { trial, columns, active, linear, shape, moments, normal, bend, fall } = work;
  if (!fillColumns(work, figures, true)) return false;
  takeMoments(trial, columns, active, moments);
  weigh(trial, moments, ratio, normal);
  const [l, s] = [linear.length, shape.length];
  const width = l + s + 1;
  const floor = (a: number) => FOLLOWED * normal[(l + a) * width + l + a];
  for (let a = 0; a < s; a++) bend[a * s + a] = floor(a);
  if (!partialCholesky(normal, width, l)) return false;
  for (let a = 0; a < s; a++) {
    fall[a] = normal[(l + s) * width + l + a];
    bend[a * s + a] += normal[(l + a) * width + l + a];
    for (let b = 0; b < a; b++) bend[a * s + b] = normal[(l + a) * width + l + b];
  }
  for (let a = 0; a < s; a++) {
    const bound = work.bounds.get(shape[a]);
    const at = figures[shape[a]];
    if (!bound || !(fall[a] > 0 ? at >= bound[1] : at <= bound[0])) continue;
    fall[a] = 0;
    for (let b = 0; b < s; b++) if (b !== a) bend[Math.max(a, b) * s + Math.min(a, b)] = 0;
  }
  return true;
}

/** The step to the bottom of the plane, damped as by Levenberg and Marquardt, into `step`. What the squares would fall by at most; NaN where there is no such step. */
export function stepOnPlane({ shape, bend, fall, factor, step }: FitWork, damping: number): number {
  const s = shape.length;
  for (let a = 0; a < s; a++) {
    step[a] = fall[a];
    for (let b = 0; b < a; b++) factor[a * s + b] = bend[a * s + b];
    factor[a * s + a] = bend[a * s + a] * (1 + damping);
  }
  if (!cholesky(factor, s)) return NaN;
  solveByCholesky(factor, s, step);
  let promise = 0;
  for (let a = 0; a < s; a++) promise += step[a] * fall[a];
  return promise;
}

/** What the squares of the plane fall by from one set of figures to another. */
export function fallOnPlane({ shape, bend, fall }: FitWork, from: Float64Array, to: Float64Array): number {
  const s = shape.length;
  let sum = 0;
  for (let a = 0; a < s; a++) {
    const own = to[shape[a]] - from[shape[a]];
    sum += own * (2 * fall[a] - bend[a * s + a] * own);
    for (let b = 0; b < a; b++) sum -= 2 * own * bend[a * s + b] * (to[shape[b]] - from[shape[b]]);
  }
  return sum;
}
