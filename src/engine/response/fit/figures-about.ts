import { cholesky, inverseByCholesky, solveByCholesky } from '../../math/cholesky.ts';
import type { FamilyFit } from './family-fit.ts';
import { FIGURES } from './figures.ts';
import { fillColumns, workOn } from './fit-work.ts';
import { takeMoments, weigh } from './moments.ts';
import { shapeBounds } from './shape-starts.ts';
import { addUnseen } from './unseen.ts';

/**
 * The figures a product's plots ask for, and their covariance, where its curve is taken as a plane at `at` and not at its own best (Lindstrom & Bates 1990, Biometrics 46:673). A bend that came out small by chance gives a
 * best stand far off and unsure: weighing products by that favours those whose bend came out large; at figures all products are near to, the weights do not hang on what came out. Null where the plane tells nothing.
 */
export function figuresAbout(
  fit: FamilyFit,
  at: Float64Array,
): { readonly figures: Float64Array; readonly covariance: Float64Array } | null {
  const work = workOn(fit.trial, fit.family, fit.fitted, shapeBounds(fit.family, fit.trial));
  const { active, normal, factor, step } = work;
  if (!fillColumns(work, at, true)) return null;
  takeMoments(fit.trial, work.columns, active, work.moments);
  weigh(fit.trial, work.moments, fit.ratio, normal);
  const k = active.length;
  for (let a = 0; a < k; a++) {
    for (let b = 0; b <= a; b++) factor[a * k + b] = normal[a * (k + 1) + b];
    step[a] = normal[k * (k + 1) + a];
  }
  if (!cholesky(factor, k)) return null;
  solveByCholesky(factor, k, step);
  const inverse = inverseByCholesky(factor, k);
  const figures = Float64Array.from(at);
  const covariance = new Float64Array(FIGURES * FIGURES);
  for (let a = 0; a < k; a++) {
    figures[active[a]] += step[a];
    for (let b = 0; b < k; b++)
      covariance[active[a] * FIGURES + active[b]] = fit.plotSd_buPerAc ** 2 * inverse[a * k + b];
  }
  return { figures, covariance: addUnseen(covariance, fit.unseen) };
}
