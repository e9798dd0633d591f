import { STANDS_FOR_A_CURVE } from '../engine/response/fit/fit-refusal.ts';
import type { Lineup } from '../plan/lineup-schema.ts';
import { lineupTrials } from '../plan/lineup-trials.ts';
import { curveEvidence, type FitEvidence } from './fit-evidence.ts';

/** What the curve of a product of a lineup rests on, by the plots the lineup keeps of it, in their order; null without a curve or plots to tell. Blocks are not kept, so with one site nothing can be left out in turn. */
export function keptEvidence(lineup: Lineup, product: number): FitEvidence | null {
  const { response, plots } = lineup.products[product];
  if (response === null || plots === null || plots.site.length < STANDS_FOR_A_CURVE) return null;
  // Its own plots alone: the others say nothing of it, and hundreds of them take their time.
  const products = lineup.products.map((own, k) => (k === product ? own : { ...own, plots: null }));
  const table = lineupTrials({ ...lineup, products });
  const environment_buPerAc = Float64Array.from(lineup.sites, (site) => site.environment_buPerAc ?? NaN);
  const fitted = { reference_buPerAc: response.reference_buPerAc, environment_buPerAc };
  return curveEvidence(table, fitted, { product, response }, [...table.product.keys()], false);
}
