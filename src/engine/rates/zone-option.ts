import { curveAt, type RatedProduct } from '../lineup/product.ts';
import { economicOptimum, yieldAt } from '../response/curve.ts';
import type { ZoneOption } from './assignment.ts';
import { type Money, netPrice_perBu, seedPrice_perThousand, thousandPlants_bu } from './money.ts';
import { type RateLimits, rateRange } from './rate-range.ts';

/**
 * A product on ground of one yield environment, at its best allowed rate (or at `byHand_seedsPerAc`). Null when no rate is open to it.
 * Up to its economic optimum the margin of a curve climbs and beyond it falls, so the best whole step is one of the two about the optimum, moved into the open range. A curve without
 * one earns most at one end of the range. Of two that pay alike, the lower.
 */
export function zoneOption(
  product: RatedProduct,
  index: number,
  environment_buPerAc: number,
  money: Money,
  limits: RateLimits,
  byHand_seedsPerAc: number | null = null,
): ZoneOption | null {
  const curve = curveAt(product, environment_buPerAc);
  const optimum = economicOptimum(curve, thousandPlants_bu(product, money)) * 1000;
  const best = Number.isFinite(optimum) ? optimum : null;
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
  const better = (under: ZoneOption, over: ZoneOption) =>
    over.marginPerAc > under.marginPerAc ? over : under;
  if (byHand_seedsPerAc !== null) return optionAt(byHand_seedsPerAc, ['rate-by-hand']);

  const range = rateRange(product, money.emergence, limits);
  if (range === null) return null;
  if (best === null)
    return better(optionAt(range.from, [range.fromLimit]), optionAt(range.to, [range.toLimit]));
  const step = limits.step_seedsPerAc;
  const wanted = best / money.emergence;
  const into = (seeds: number) => Math.min(range.to, Math.max(range.from, seeds));
  const bound =
    wanted > range.to + step / 2 ? [range.toLimit] : wanted < range.from - step / 2 ? [range.fromLimit] : [];
  return better(
    optionAt(into(Math.floor(wanted / step) * step), bound),
    optionAt(into(Math.ceil(wanted / step) * step), bound),
  );
}
