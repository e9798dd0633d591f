import type { LineupInput } from '../../src/plan/lineup-schema.ts';
import { NOTES, SCALE } from './lineup-notes.ts';
import { fitResponse } from './response-fit.ts';
import type { Plot } from './trials.ts';
import { CROPS, TRUE_PRODUCTS } from './true-products.ts';

/** The lineup as its trials show it: every response is the least-squares fit of the product's plots. */
export function lineupOf(plots: readonly Plot[]): LineupInput {
  const sites = sitesOf(plots);
  return {
    document: 'eachacre-lineup',
    version: 1,
    name: 'Meadow and marsh (invented)',
    scales: [SCALE],
    sites: sites.map(({ site, year, environment_buPerAc }) => ({ name: site, year, environment_buPerAc })),
    products: TRUE_PRODUCTS.map((product) => {
      const crop = CROPS[product.crop];
      const own = plots.filter((plot) => plot.product === product.name);
      return {
        id: product.id,
        name: product.name,
        crop: product.crop,
        maturity: product.maturity,
        seedsPerUnit: crop.seedsPerUnit,
        pricePerUnit: product.pricePerUnit,
        tested_plantsPerAc: {
          min: crop.stands_k[0] * 1000,
          max: crop.stands_k[crop.stands_k.length - 1] * 1000,
        },
        response: { ...fitResponse(own, crop.reference_buPerAc), uncertainty: null },
        fit: {
          plots: own.length,
          sites: new Set(own.map((plot) => plot.site)).size,
          runnerUp: null,
          leaning: 0,
          said: [],
        },
        ...NOTES[product.id],
        plots: {
          site: own.map((plot) => sites.findIndex(({ site }) => site === plot.site)),
          stand_plantsPerAc: own.map((plot) => plot.population_plantsPerAc),
          yield_buPerAc: own.map((plot) => plot.yield_buPerAc),
        },
      };
    }),
  };
}

/** Sites of the plots, each once, by name: those of corn before those of soybean. */
function sitesOf(plots: readonly Plot[]): Plot[] {
  const first = new Map(plots.toReversed().map((plot) => [plot.site, plot]));
  return [...first.values()].sort((a, b) => (a.site < b.site ? -1 : 1));
}
