import type { ProductResponse } from '../../src/engine/lineup/product-response.ts';
import type { Plot } from './trials.ts';
import { round } from './turned-frame.ts';

/**
 * Least squares of y = β0 + β1·e + β2·p + β3·p² + β4·p·e over the plots of one product, and what follows from it:
 * the best stand at e is (β2 + β4·e) / −2β3. Here e is the environment less its reference, bu/ac, and p the stand in
 * 1000 plants/ac, counted from the middle of the trials so that the normal equations are well conditioned.
 * Yield at the best stand bends by β4² / −4β3 per squared bu/ac, which the straight line of `levelPerEnvironment`
 * leaves out: under 1 bu/ac at the edge of the trials.
 */
export function fitResponse(plots: readonly Plot[], reference_buPerAc: number): ProductResponse {
  const middle_k = plots.reduce((sum, plot) => sum + plot.population_plantsPerAc / 1000, 0) / plots.length;
  const terms = plots.map((plot) => {
    const e = plot.environment_buPerAc - reference_buPerAc;
    const p = plot.population_plantsPerAc / 1000 - middle_k;
    return [1, e, p, p * p, p * e];
  });
  const [b0, b1, b2, b3, b4] = leastSquares(
    terms,
    plots.map((plot) => plot.yield_buPerAc),
  );
  if (b3 >= 0) throw new Error(`the trials of ${plots[0].product} have no best stand`);
  const best_k = b2 / (-2 * b3);
  return {
    family: 'quadratic',
    reference_buPerAc,
    level_buPerAc: round(b0 + (b2 * best_k) / 2, 1),
    levelPerEnvironment: round(b1 + b4 * best_k, 3),
    stand_plantsPerAc: 10 * Math.round(100 * (middle_k + best_k)),
    standPerEnvironment_plantsPerAc: round((1000 * b4) / (-2 * b3), 1),
    bend: Number((-b3).toPrecision(4)),
    uncertainty: null,
  };
}

/** The β that makes Σ (y − terms·β)² least, by the normal equations and Gaussian elimination with pivots. */
function leastSquares(terms: readonly (readonly number[])[], y: readonly number[]): number[] {
  const n = terms[0].length;
  const rows = Array.from({ length: n }, (_, i) => [
    ...Array.from({ length: n }, (_, j) => terms.reduce((sum, term) => sum + term[i] * term[j], 0)),
    terms.reduce((sum, term, k) => sum + term[i] * y[k], 0),
  ]);
  for (let i = 0; i < n; i++) {
    const pivot = rows
      .slice(i)
      .reduce((best, row, k) => (Math.abs(row[i]) > Math.abs(rows[best][i]) ? i + k : best), i);
    [rows[i], rows[pivot]] = [rows[pivot], rows[i]];
    for (let k = 0; k < n; k++) {
      if (k === i) continue;
      const factor = rows[k][i] / rows[i][i];
      for (let j = i; j <= n; j++) rows[k][j] -= factor * rows[i][j];
    }
  }
  return rows.map((row, i) => row[n] / row[i]);
}
