import { curveAt, type Product } from '../lineup/product.ts';
import { economicOptimum, yieldAt } from '../response/quadratic.ts';
import type { ZoneOption } from './assignment.ts';
import { type Money, netPrice_perBu, seedPrice_perThousand, thousandPlants_bu } from './money.ts';
import { type RateLimits, rateRange } from './rate-range.ts';

/**
 * A product on ground of one yield environment, at its best allowed rate (or at `byHand_seedsPerAc`). Null when no rate is open to it.
 * The margin is concave in the rate, so the best whole step is one of the two about the optimum, moved into the open range;
 * of two that pay alike, the lower.
 */
export function zoneOption(
  product: Product,
  index: number,
  environment_buPerAc: number,
  money: Money,
  limits: RateLimits,
  byHand_seedsPerAc: number | null = null,
): ZoneOption | null {
  const curve = curveAt(product, environment_buPerAc);
  const best = economicOptimum(curve, thousandPlants_bu(product, money)) * 1000;
  const optionAt = (seedsPerAc: number, bound: readonly string[]): ZoneOption => {
    const plantsPerAc = seedsPerAc * money.emergence;
    const yield_buPerAc = yieldAt(curve, plantsPerAc / 1000);
    const seedCostPerAc = (seedsPerAc / 1000) * seedPrice_perThousand(product);
    return {
      product: index,
      seedsPerAc,
      plantsPerAc,
      yield_buPerAc,
      seedCostPerAc,
      marginPerAc: yield_buPerAc * netPrice_perBu(money) - seedCostPerAc,
      economicOptimum_plantsPerAc: best,
      bound,
    };
  };
  if (byHand_seedsPerAc !== null) return optionAt(byHand_seedsPerAc, ['rate-by-hand']);

  const range = rateRange(product, money.emergence, limits);
  if (range === null) return null;
  const step = limits.step_seedsPerAc;
  const wanted = best / money.emergence;
  const into = (seeds: number) => Math.min(range.to, Math.max(range.from, seeds));
  const bound =
    wanted > range.to + step / 2 ? [range.toLimit] : wanted < range.from - step / 2 ? [range.fromLimit] : [];
  const under = optionAt(into(Math.floor(wanted / step) * step), bound);
  const over = optionAt(into(Math.ceil(wanted / step) * step), bound);
  return over.marginPerAc > under.marginPerAc ? over : under;
}
