import type { TrialTable } from '../engine/lineup/trial-table.ts';
import type { Lineup } from './lineup-schema.ts';

/** The plots a lineup keeps, as a trial table: products and sites have the indices they have in the lineup. Blocks are not kept, and environments only where they were told. */
export function lineupTrials({ products, sites }: Lineup): TrialTable {
  const plots = products.reduce((sum, own) => sum + (own.plots?.site.length ?? 0), 0);
  const product = new Uint32Array(plots);
  const site = new Uint32Array(plots);
  const stand_plantsPerAc = new Float64Array(plots);
  const yield_buPerAc = new Float64Array(plots);
  let at = 0;
  for (const [index, { plots: own }] of products.entries())
    for (const [k, there] of (own?.site ?? []).entries()) {
      product[at] = index;
      site[at] = there;
      stand_plantsPerAc[at] = own!.stand_plantsPerAc[k] ?? NaN;
      yield_buPerAc[at] = own!.yield_buPerAc[k];
      at++;
    }
  return {
    products: products.map(({ name, crop }) => ({ name, crop })),
    sites: sites.map(({ name, year, environment_buPerAc, environmentTold }) => ({
      name,
      year,
      environment_buPerAc: environmentTold ? (environment_buPerAc ?? NaN) : NaN,
    })),
    product,
    site,
    stand_plantsPerAc,
    yield_buPerAc,
    block: new Uint32Array(plots),
  };
}
