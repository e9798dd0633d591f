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

/** The flat plan of highest margin: every product at every whole step open to it, over all the ground. Null when none is open. */
export function bestFlatPlan(
  products: readonly Product[],
  ground: readonly Ground[],
  money: Money,
  limits: RateLimits,
): FlatPlan | null {
  const acres = ground.reduce((sum, zone) => sum + zone.area_ac, 0);
  let best: FlatPlan | null = null;
  products.forEach((product, index) => {
    const range = rateRange(product, money.emergence, limits);
    if (range === null) return;
    const curves = ground.map((zone) => curveAt(product, zone.environment_buPerAc));
    for (let seedsPerAc = range.from; seedsPerAc <= range.to; seedsPerAc += limits.step_seedsPerAc) {
      let bushels = 0;
      ground.forEach((zone, k) => {
        bushels += zone.area_ac * yieldAt(curves[k], (seedsPerAc * money.emergence) / 1000);
      });
      const marginPerAc =
        (bushels / acres) * netPrice_perBu(money) - (seedsPerAc / 1000) * seedPrice_perThousand(product);
      if (best === null || marginPerAc > best.marginPerAc) best = { product: index, seedsPerAc, marginPerAc };
    }
  });
  return best;
}

export function worthOver(flat: FlatPlan, choices: readonly ZoneChoice[], area_ac: readonly number[]): Worth {
  const acres = area_ac.reduce((sum, area) => sum + area, 0);
  const total = choices.reduce((sum, choice, k) => sum + choice.chosen.marginPerAc * area_ac[k], 0);
  const marginPerAc = total / acres;
  const perAc = marginPerAc - flat.marginPerAc;
  return { flat, marginPerAc, perAc, perField: perAc * acres };
}
