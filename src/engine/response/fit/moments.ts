import type { Trial } from './trial.ts';

/** Sums of products of some columns and the residuals, of all plots and of sites: what a fit with sites as chance needs, for any ratio of the two variances. */
export interface Moments {
  /** Columns, and the residuals as the last. */
  width: number;
  /** Σ zzᵀ over plots, lower triangle, `width` a row. */
  readonly total: Float64Array;
  /** Σ (Σz)(Σz)ᵀ over the sites of each size, as many triangles one behind the other. */
  readonly ofSites: Float64Array;
  /** Σ z of one site, and where each column begins. */
  readonly sum: Float64Array;
  readonly from: Uint32Array;
}

export function momentsFor({ bySize }: Trial, most: number): Moments {
  return {
    width: most,
    total: new Float64Array(most * most),
    ofSites: new Float64Array(bySize.plots.length * most * most),
    sum: new Float64Array(most),
    from: new Uint32Array(most),
  };
}

/** `columns[k · plots …]` is column k, the residuals behind all others; `active` says which of them count. */
export function takeMoments(
  { plots, start, sites, bySize }: Trial,
  columns: Float64Array,
  active: Uint8Array,
  into: Moments,
): void {
  const { total, ofSites, sum, from } = into;
  const width = active.length + 1;
  into.width = width;
  for (let a = 0; a < active.length; a++) from[a] = active[a] * plots;
  from[active.length] = columns.length - plots;
  for (let a = 0; a < width; a++) {
    const own = from[a];
    // Two columns beside each other, which halves the reading.
    let b = 0;
    for (; b < a; b += 2) {
      const one = from[b];
      const other = from[b + 1];
      let first = 0;
      let second = 0;
      for (let i = 0; i < plots; i++) {
        const z = columns[own + i];
        first += z * columns[one + i];
        second += z * columns[other + i];
      }
      total[a * width + b] = first;
      total[a * width + b + 1] = second;
    }
    if (b > a) continue;
    let squares = 0;
    for (let i = 0; i < plots; i++) squares += columns[own + i] * columns[own + i];
    total[a * width + a] = squares;
  }
  ofSites.fill(0);
  for (let j = 0; j < sites; j++) {
    const at = bySize.ofSite[j] * width * width;
    for (let a = 0; a < width; a++) {
      let own = 0;
      for (let i = from[a] + start[j]; i < from[a] + start[j + 1]; i++) own += columns[i];
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
