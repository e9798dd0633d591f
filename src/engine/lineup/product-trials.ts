import type { Plots } from '../response/plots.ts';
import type { ProductPlots } from './product.ts';
import type { TrialTable } from './trial-table.ts';

/** Rows of a table by product, in the order of the table. */
export function rowsByProduct({ products, product }: TrialTable): Uint32Array[] {
  const counts = new Uint32Array(products.length);
  for (const own of product) counts[own]++;
  const rows = Array.from(counts, (count) => new Uint32Array(count));
  counts.fill(0);
  for (let i = 0; i < product.length; i++) rows[product[i]][counts[product[i]]++] = i;
  return rows;
}

/** The plots of one product for a fit. Where all are of one site its blocks stand for sites. */
export function plotsOf(
  { site, block, stand_plantsPerAc, yield_buPerAc }: TrialTable,
  rows: Uint32Array,
  environment_buPerAc: ArrayLike<number>,
): Plots {
  const one = rows.every((i) => site[i] === site[rows[0]]);
  return {
    stand_k: Float64Array.from(rows, (i) => stand_plantsPerAc[i] / 1000),
    yield_buPerAc: Float64Array.from(rows, (i) => yield_buPerAc[i]),
    site: Uint32Array.from(rows, (i) => (one ? block[i] : site[i])),
    environment_buPerAc: Float64Array.from(rows, (i) => environment_buPerAc[site[i]]),
  };
}

/** The same as the lineup keeps them. */
export function keptPlots(
  { site, stand_plantsPerAc, yield_buPerAc }: TrialTable,
  rows: Uint32Array,
): ProductPlots {
  return {
    site: Array.from(rows, (i) => site[i]),
    stand_plantsPerAc: Array.from(rows, (i) =>
      Number.isFinite(stand_plantsPerAc[i]) ? stand_plantsPerAc[i] : null,
    ),
    yield_buPerAc: Array.from(rows, (i) => yield_buPerAc[i]),
  };
}
