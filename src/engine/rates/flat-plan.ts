import { curveAt, type RatedProduct } from '../lineup/product.ts';
import { curveDoubt, yieldAt } from '../response/curve.ts';
import type { Ground } from './ground.ts';
import { type Money, netPrice_perBu, seedPrice_perThousand } from './money.ts';
import { type RateLimits, rateRange } from './rate-range.ts';

/** The best single product at its best single rate over the whole field. */
export interface FlatPlan {
  readonly product: number;
  readonly seedsPerAc: number;
  readonly marginPerAc: number;
}

/**
 * The flat plan of highest margin: every product at its best whole step over all the ground; of two that pay alike, the lower. A product whose
 * curve does not hold on some of it is not open; null when none is.
 */
export function bestFlatPlan(
  products: readonly RatedProduct[],
  ground: readonly Ground[],
  money: Money,
  limits: RateLimits,
): FlatPlan | null {
  const acres = ground.reduce((sum, zone) => sum + zone.area_ac, 0);
  let best: FlatPlan | null = null;
  for (const [index, product] of products.entries()) {
    const range = rateRange(product, money.emergence, limits);
    if (range === null) continue;
    const curves = ground.map((zone) => curveAt(product, zone.environment_buPerAc));
    if (curves.some((curve) => curveDoubt(curve) !== null)) continue;
    const marginAt = (seedsPerAc: number): number => {
      const stand = (seedsPerAc * money.emergence) / 1000;
      const bushels = ground.reduce((sum, zone, k) => sum + zone.area_ac * yieldAt(curves[k], stand), 0);
      return (bushels / acres) * netPrice_perBu(money) - (seedsPerAc / 1000) * seedPrice_perThousand(product);
    };
    // Zones may want rates far apart, and the sum of what they earn then has more than one top: every step is looked at.
    let seedsPerAc = range.from;
    let marginPerAc = marginAt(seedsPerAc);
    for (let rate = range.from + limits.step_seedsPerAc; rate <= range.to; rate += limits.step_seedsPerAc) {
      const margin = marginAt(rate);
      if (margin > marginPerAc) [seedsPerAc, marginPerAc] = [rate, margin];
    }
    if (best === null || marginPerAc > best.marginPerAc) best = { product: index, seedsPerAc, marginPerAc };
  }
  return best;
}
