import type { Estimate } from '../../../engine/lineup/estimate.ts';
import type { Product } from '../../../engine/lineup/product.ts';
import { curveOf, type ProductResponse } from '../../../engine/lineup/product-response.ts';
import { optimumInterval, yieldInterval } from '../../../engine/lineup/response-interval.ts';
import { withinTested } from '../../../engine/lineup/within-tested.ts';
import { agronomicOptimum, economicOptimum, yieldAt } from '../../../engine/response/curve.ts';
import type { LineupSite } from '../../../plan/lineup-schema.ts';
import { sampled } from '../../parts/curve-series.ts';
import { groundThirds, type Third } from './ground-thirds.ts';

/** One piece of ground: the curve there, how sure it is, and the plots it came from. Stands in plants/ac. */
export interface ResponseChart extends Third {
  readonly curve: readonly (readonly [number, number])[];
  readonly band: readonly (readonly [number, number, number])[];
  readonly plots: readonly (readonly [number, number])[];
  /** The stand of highest yield and of highest return, 1000 plants/ac; the latter null without prices. */
  readonly best: Estimate;
  readonly pays: Estimate | null;
}

/** Stands of the band: as smooth as the eye asks for. */
const BAND_STEPS = 24;

/** `r`: a thousand plants in bushels; null without prices. Plots are moved along the ground to the middle of their third, by the product's own answer to ground. */
export function responseCharts(
  product: Product,
  response: ProductResponse,
  sites: readonly LineupSite[],
  r: number | null,
): ResponseChart[] {
  const { plots } = product;
  const used = plots ? [...new Set(plots.site)].sort((a, b) => a - b) : [];
  const { min, max } = rangeOf(product, response);
  return groundThirds(used, sites, response.reference_buPerAc).map((third) => {
    const { environment_buPerAc: e } = third;
    const curve = curveOf(response, e);
    const none = { low: NaN, high: NaN };
    const standOf = (price: number) => {
      const found = optimumInterval(response, e, price, product.tested_plantsPerAc);
      return found && withinTested(found, product.tested_plantsPerAc);
    };
    const band = sampled(min, max, (plants) => plants, BAND_STEPS).flatMap(([plants]) => {
      const found = yieldInterval(response, e, plants / 1000);
      return found && Number.isFinite(found.low) ? [[plants, found.low, found.high] as const] : [];
    });
    return {
      ...third,
      curve: sampled(min, max, (plants) => yieldAt(curve, plants / 1000)),
      band,
      plots: movedPlots(product, response, sites, third),
      best: standOf(0) ?? { value: agronomicOptimum(curve), ...none },
      pays: r === null ? null : (standOf(r) ?? { value: economicOptimum(curve, r), ...none }),
    };
  });
}

function movedPlots(
  { plots }: Product,
  response: ProductResponse,
  sites: readonly LineupSite[],
  { sites: own, environment_buPerAc }: Third,
): (readonly [number, number])[] {
  if (!plots) return [];
  return plots.site.flatMap((site, k) => {
    const stand = plots.stand_plantsPerAc[k];
    if (!own.has(site) || stand === null) return [];
    const away = environment_buPerAc - (sites[site].environment_buPerAc ?? environment_buPerAc);
    return [[stand, plots.yield_buPerAc[k] + response.levelPerEnvironment * away] as const];
  });
}

/** The stands tested; about the best stand where nobody says. */
function rangeOf(product: Product, { stand_plantsPerAc }: ProductResponse): { min: number; max: number } {
  return product.tested_plantsPerAc ?? { min: stand_plantsPerAc / 2, max: 1.5 * stand_plantsPerAc };
}
