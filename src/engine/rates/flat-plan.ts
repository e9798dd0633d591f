import { curveAt, type Product } from '../lineup/product.ts';
import { yieldAt } from '../response/quadratic.ts';
import type { ZoneChoice } from './assignment.ts';
import { type Money, netPrice_perBu, seedPrice_perThousand } from './money.ts';
import { type RateLimits, rateRange } from './rate-range.ts';

/** The best single product at its best single rate over the whole field. */
export interface FlatPlan {
  readonly product: number;
  readonly seedsPerAc: number;
  readonly marginPerAc: number;
}

/** What the plan earns over the best flat plan. */
export interface Worth {
  readonly flat: FlatPlan;
  readonly marginPerAc: number;
  readonly perAc: number;
  readonly perField: number;
}

export interface Ground {
  readonly environment_buPerAc: number;
  readonly area_ac: number;
}

/**
 * The flat plan of highest margin: every product at its best whole step over all the ground. Null when none is open. The field's margin is concave in the
 * rate, as each zone's is, so the best step is found by halving; of two that pay alike, the lower.
 */
export function bestFlatPlan(
  products: readonly Product[],
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
    const marginAt = (seedsPerAc: number): number => {
      const stand = (seedsPerAc * money.emergence) / 1000;
      const bushels = ground.reduce((sum, zone, k) => sum + zone.area_ac * yieldAt(curves[k], stand), 0);
      return (bushels / acres) * netPrice_perBu(money) - (seedsPerAc / 1000) * seedPrice_perThousand(product);
    };
    const step = limits.step_seedsPerAc;
    let low = 0;
    let high = Math.round((range.to - range.from) / step);
    while (low < high) {
      const middle = (low + high) >> 1;
      const rate = range.from + middle * step;
      if (marginAt(rate + step) > marginAt(rate)) low = middle + 1;
      else high = middle;
    }
    const seedsPerAc = range.from + low * step;
    const marginPerAc = marginAt(seedsPerAc);
    if (best === null || marginPerAc > best.marginPerAc) best = { product: index, seedsPerAc, marginPerAc };
  }
  return best;
}

export function worthOver(flat: FlatPlan, choices: readonly ZoneChoice[], area_ac: readonly number[]): Worth {
  const acres = area_ac.reduce((sum, area) => sum + area, 0);
  const total = choices.reduce((sum, choice, k) => sum + choice.chosen.marginPerAc * area_ac[k], 0);
  const marginPerAc = total / acres;
  const perAc = marginPerAc - flat.marginPerAc;
  return { flat, marginPerAc, perAc, perField: perAc * acres };
}
