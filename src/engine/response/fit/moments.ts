import type { Trial } from './trial.ts';

/** Sums of products of some columns and the residuals, of all plots and of sites: what a fit with sites as chance needs, for any ratio of the two variances. */
export interface Moments {
  /** Columns, and the residuals as the last. */
  width: number;
  /** Σ zzᵀ over plots, lower triangle, `width` a row. */
  readonly total: Float64Array;
  /** Σ z of each site, `width` a site. */
  readonly sums: Float64Array;
}

export function momentsFor(sites: number, most: number): Moments {
  return {
    width: most,
    total: new Float64Array(most * most),
    sums: new Float64Array(sites * most),
  };
}

/** `columns[k · plots …]` is column k; `active` says which of them count. */
export function takeMoments(
  { plots, start, sites }: Trial,
  columns: Float64Array,
  active: Uint8Array,
  residuals: Float64Array,
  into: Moments,
): void {
  const { total, sums } = into;
  const k = active.length;
  const width = k + 1;
  into.width = width;
  for (let a = 0; a < width; a++) {
    const left = a < k ? active[a] * plots : -1;
    for (let b = 0; b <= a; b++) {
      const right = b < k ? active[b] * plots : -1;
      let sum = 0;
      if (left >= 0) for (let i = 0; i < plots; i++) sum += columns[left + i] * columns[right + i];
      else if (right >= 0) for (let i = 0; i < plots; i++) sum += residuals[i] * columns[right + i];
      else for (let i = 0; i < plots; i++) sum += residuals[i] * residuals[i];
      total[a * width + b] = sum;
    }
    for (let j = 0; j < sites; j++) {
      let sum = 0;
      if (left >= 0) for (let i = start[j]; i < start[j + 1]; i++) sum += columns[left + i];
      else for (let i = start[j]; i < start[j + 1]; i++) sum += residuals[i];
      sums[j * width + a] = sum;
    }
  }
}

/**
 * Σ zᵀV⁻¹z·σ² with V = σ²(I + ratio·11ᵀ) within a site, lower triangle: the same as least squares of columns from which a share of their site means has been taken (quasi-demeaning,
 * Swamy & Arora 1972, Econometrica 40:311).
 */
export function weigh(
  { start, sites }: Trial,
  { width, total, sums }: Moments,
  ratio: number,
  into: Float64Array,
): void {
  for (let k = 0; k < width * width; k++) into[k] = total[k];
  if (ratio === 0) return;
  for (let j = 0; j < sites; j++) {
    const share = ratio / (1 + (start[j + 1] - start[j]) * ratio);
    const at = j * width;
    for (let a = 0; a < width; a++) {
      const own = share * sums[at + a];
      for (let b = 0; b <= a; b++) into[a * width + b] -= own * sums[at + b];
    }
  }
}
