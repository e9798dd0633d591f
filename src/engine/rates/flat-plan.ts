import { curveAt, type RatedProduct } from '../lineup/product.ts';
import { curveDoubt, yieldAt } from '../response/curve.ts';
import type { Ground } from './ground.ts';
import { type Money, netPrice_perBu, seedPrice_perThousand } from './money.ts';
import { type RateLimits, rateRange } from './rate-range.ts';

/** The best single product at its best single rate over the whole field. */
export interface FlatPlan {
  readonly product: number;
  readonly seedsPerAc: number;
  readonly yield_buPerAc: number;
  readonly seedCostPerAc: number;
  readonly marginPerAc: number;
}

/** A hair, so that seed that is just enough is enough. */
const HAIR = 1e-9;

/**
 * The flat plan of highest margin: every product at its best whole step over all the ground; of two that pay alike, the lower. A product whose
 * curve does not hold on some of it is not open, nor a rate for which there is not seed enough on hand; null when none is.
 */
export function bestFlatPlan(
  products: readonly RatedProduct[],
  ground: readonly Ground[],
  money: Money,
  limits: RateLimits,
  seedsOnHand: ReadonlyMap<number, number> = new Map(),
): FlatPlan | null {
  const acres = ground.reduce((sum, zone) => sum + zone.area_ac, 0);
  let best: FlatPlan | null = null;
  for (const [index, product] of products.entries()) {
    const range = rateRange(product, money.emergence, limits);
    if (range === null) continue;
    const seedPrice = seedPrice_perThousand(product);
    const curves = ground.map((zone) => curveAt(product, zone.environment_buPerAc));
    if (curves.some((curve) => curveDoubt(curve) !== null)) continue;
    const planAt = (seedsPerAc: number): FlatPlan => {
      const stand = (seedsPerAc * money.emergence) / 1000;
      const bushels = ground.reduce((sum, zone, k) => sum + zone.area_ac * yieldAt(curves[k], stand), 0);
      const [yield_buPerAc, seedCostPerAc] = [bushels / acres, (seedsPerAc / 1000) * seedPrice];
      const marginPerAc = yield_buPerAc * netPrice_perBu(money) - seedCostPerAc;
      return { product: index, seedsPerAc, yield_buPerAc, seedCostPerAc, marginPerAc };
    };
    // Zones may want rates far apart, and the sum of what they earn then has more than one top: every step is looked at.
    const most = Math.min(range.to, ((seedsOnHand.get(index) ?? Infinity) / acres) * (1 + HAIR));
    for (let rate = range.from; rate <= most; rate += limits.step_seedsPerAc) {
      const own = planAt(rate);
      if (best === null || own.marginPerAc > best.marginPerAc) best = own;
    }
  }
  return best;
}
