import type { Trial } from './trial.ts';

/** Sums of products of some columns and the residuals, of all plots and of sites: what a fit with sites as chance needs, for any ratio of the two variances. */
export interface Moments {
  /** Columns, and the residuals as the last. */
  width: number;
  /** Σ zzᵀ over plots, lower triangle, `width` a row. */
  readonly total: Float64Array;
  /** Σ (Σz)(Σz)ᵀ over the sites of each size, as many triangles one behind the other. */
  readonly ofSites: Float64Array;
  /** Σ z of one site. */
  readonly sum: Float64Array;
}

export function momentsFor({ bySize }: Trial, most: number): Moments {
  return {
    width: most,
    total: new Float64Array(most * most),
    ofSites: new Float64Array(bySize.plots.length * most * most),
    sum: new Float64Array(most),
  };
}

/** `columns[k · plots …]` is column k; `active` says which of them count. */
export function takeMoments(
  { plots, start, sites, bySize }: Trial,
  columns: Float64Array,
  active: Uint8Array,
  residuals: Float64Array,
  into: Moments,
): void {
  const { total, ofSites, sum } = into;
  const k = active.length;
  const width = k + 1;
  into.width = width;
  for (let a = 0; a < width; a++) {
    const left = a < k ? active[a] * plots : -1;
    for (let b = 0; b <= a; b++) {
      const right = b < k ? active[b] * plots : -1;
      let own = 0;
      if (left >= 0) for (let i = 0; i < plots; i++) own += columns[left + i] * columns[right + i];
      else if (right >= 0) for (let i = 0; i < plots; i++) own += residuals[i] * columns[right + i];
      else for (let i = 0; i < plots; i++) own += residuals[i] * residuals[i];
      total[a * width + b] = own;
    }
  }
  ofSites.fill(0);
  for (let j = 0; j < sites; j++) {
    const at = bySize.ofSite[j] * width * width;
    for (let a = 0; a < width; a++) {
      const left = a < k ? active[a] * plots : -1;
      let own = 0;
      if (left >= 0) for (let i = start[j]; i < start[j + 1]; i++) own += columns[left + i];
      else for (let i = start[j]; i < start[j + 1]; i++) own += residuals[i];
      sum[a] = own;
      for (let b = 0; b <= a; b++) ofSites[at + a * width + b] += own * sum[b];
    }
  }
}

/**
 * Σ zᵀV⁻¹z·σ² with V = σ²(I + ratio·11ᵀ) within a site, lower triangle: the same as least squares of columns from which a share of their site means has been taken (quasi-demeaning,
 * Swamy & Arora 1972, Econometrica 40:311).
 */
export function weigh({ bySize }: Trial, moments: Moments, ratio: number, into: Float64Array): void {
  const { total, ofSites } = moments;
  const triangle = moments.width * moments.width;
  for (let k = 0; k < triangle; k++) into[k] = total[k];
  if (ratio === 0) return;
  for (let g = 0; g < bySize.plots.length; g++) {
    const share = ratio / (1 + bySize.plots[g] * ratio);
    for (let k = 0; k < triangle; k++) into[k] -= share * ofSites[g * triangle + k];
  }
}
