import { type Random, random } from '../../src/engine/math/random.ts';
import { CROPS, TRUE_PRODUCTS, type TrueProduct } from './true-products.ts';
import { round } from './turned-frame.ts';

/** A plot of a population trial. */
export interface Plot {
  readonly product: string;
  readonly crop: string;
  readonly year: number;
  readonly site: string;
  readonly rep: number;
  readonly environment_buPerAc: number;
  readonly population_plantsPerAc: number;
  readonly yield_buPerAc: number;
}

interface Site {
  readonly name: string;
  readonly year: number;
  readonly environment_buPerAc: number;
}

const SITES = 30;
const REPS = 2;
const YEARS = [2024, 2025, 2026];

/** Every plot of every product: the true curve, a fit of the product with the site, and the plot's own error. */
export function trialPlots(seed: number): Plot[] {
  const stream = random(seed);
  const sites = { corn: sitesOf('corn', stream), soybean: sitesOf('soybean', stream) };
  return TRUE_PRODUCTS.flatMap((product) =>
    someOf(sites[product.crop], product.sites, stream).flatMap((site) => plotsAt(product, site, stream)),
  );
}

/** Yield of a product where the environment is `e`, at a stand of `p` thousand plants/ac. */
function trueYield(product: TrueProduct, e: number, p: number): number {
  const away = e - CROPS[product.crop].reference_buPerAc;
  const best = product.optimum_k + product.optimumPerEnvironment_k * away;
  return product.yield_buPerAc + product.yieldPerEnvironment * away - product.curvature * (p - best) ** 2;
}

export function trialsCsv(plots: readonly Plot[]): string {
  const head = 'product,crop,year,site,rep,environment_bu_ac,population_plants_ac,yield_bu_ac';
  const lines = plots.map((plot) =>
    [
      plot.product,
      plot.crop,
      plot.year,
      plot.site,
      plot.rep,
      plot.environment_buPerAc,
      plot.population_plantsPerAc,
      plot.yield_buPerAc,
    ].join(),
  );
  return `${[head, ...lines].join('\r\n')}\r\n`;
}

/** Sites spread over the crop's environments, poor to rich. */
function sitesOf(crop: 'corn' | 'soybean', { uniform, integer }: Random): Site[] {
  const [low, high] = CROPS[crop].environments;
  return Array.from({ length: SITES }, (_, i) => ({
    name: `${crop} site ${String(i + 1).padStart(2, '0')}`,
    year: YEARS[integer(YEARS.length)],
    environment_buPerAc: round(low + ((high - low) * (i + uniform())) / SITES, 1),
  }));
}

/** `count` of the sites, in their order. */
function someOf(sites: readonly Site[], count: number, { integer }: Random): Site[] {
  const left = [...sites];
  while (left.length > count) left.splice(integer(left.length), 1);
  return left;
}

function plotsAt(product: TrueProduct, site: Site, { normal }: Random): Plot[] {
  const { stands_k, siteSd, plotSd } = CROPS[product.crop];
  const atSite = siteSd * normal();
  return stands_k.flatMap((stand_k) =>
    Array.from({ length: REPS }, (_, rep): Plot => {
      // What stands is counted, and is never quite what was aimed at.
      const standing_k = round(stand_k * (1 + 0.02 * normal()), 1);
      const grown = trueYield(product, site.environment_buPerAc, standing_k);
      return {
        product: product.name,
        crop: product.crop,
        year: site.year,
        site: site.name,
        rep: rep + 1,
        environment_buPerAc: site.environment_buPerAc,
        population_plantsPerAc: Math.round(standing_k * 1000),
        yield_buPerAc: round(grown + atSite + plotSd * normal(), 1),
      };
    }),
  );
}
