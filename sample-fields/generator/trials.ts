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
  /** Null where the plot was lost. */
  readonly yield_buPerAc: number | null;
}

interface Site {
  readonly name: string;
  readonly year: number;
  readonly environment_buPerAc: number;
}

const SITES = 12;
const BLOCKS = 3;
const YEARS = [2024, 2025, 2026];
/** Share of plots lost to deer, water or the combine. */
const LOST = 0.02;

/** Every plot of every product: the true curve, a fit of the product with the site, and the plot's own error. */
export function trialPlots(seed: number): Plot[] {
  const stream = random(seed);
  const sites = { corn: sitesOf('corn', stream), soybean: sitesOf('soybean', stream) };
  return TRUE_PRODUCTS.flatMap((product) =>
    someOf(sites[product.crop], product, stream).flatMap((site) => plotsAt(product, site, stream)),
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
      plot.yield_buPerAc ?? '',
    ].join(),
  );
  return `${[head, ...lines].join('\r\n')}\r\n`;
}

/** Sites spread over the crop's environments, poor to rich in every year. */
function sitesOf(crop: 'corn' | 'soybean', { uniform }: Random): Site[] {
  const [low, high] = CROPS[crop].environments;
  return Array.from({ length: SITES }, (_, i) => ({
    name: `${crop} site ${String(i + 1).padStart(2, '0')}`,
    year: YEARS[i % YEARS.length],
    environment_buPerAc: round(low + ((high - low) * (i + uniform())) / SITES, 1),
  }));
}

/** As many sites as the product was at, in their order. */
function someOf(sites: readonly Site[], product: TrueProduct, { integer }: Random): Site[] {
  const left = sites.filter(({ year }) => year >= (product.firstYear ?? YEARS[0]));
  while (left.length > product.sites) left.splice(integer(left.length), 1);
  return left;
}

function plotsAt(product: TrueProduct, site: Site, { normal, uniform }: Random): Plot[] {
  const { stands_k, siteSd, plotSd } = CROPS[product.crop];
  const atSite = siteSd * normal();
  return stands_k.flatMap((stand_k) =>
    Array.from({ length: BLOCKS }, (_, rep): Plot => {
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
        yield_buPerAc: uniform() < LOST ? null : round(grown + atSite + plotSd * normal(), 1),
      };
    }),
  );
}
