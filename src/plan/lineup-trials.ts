import type { TrialTable } from '../engine/lineup/trial-table.ts';
import type { Lineup } from './lineup-schema.ts';

/** The plots a lineup keeps, as a trial table: products and sites have the indices they have in the lineup. Blocks are not kept, and environments only where they were told. */
export function lineupTrials({ products, sites }: Lineup): TrialTable {
  const plots = products.flatMap(({ plots: own }, product) =>
    own
      ? own.site.map((site, k) => ({
          product,
          site,
          stand: own.stand_plantsPerAc[k],
          y: own.yield_buPerAc[k],
        }))
      : [],
  );
  return {
    products: products.map(({ name, crop }) => ({ name, crop })),
    sites: sites.map(({ name, year, environment_buPerAc, environmentTold }) => ({
      name,
      year,
      environment_buPerAc: environmentTold ? (environment_buPerAc ?? NaN) : NaN,
    })),
    product: Uint32Array.from(plots, (plot) => plot.product),
    site: Uint32Array.from(plots, (plot) => plot.site),
    stand_plantsPerAc: Float64Array.from(plots, (plot) => plot.stand ?? NaN),
    yield_buPerAc: Float64Array.from(plots, (plot) => plot.y),
    block: new Uint32Array(plots.length),
  };
}
