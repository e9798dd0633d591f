import { curveAt, type RatedProduct } from '../lineup/product.ts';
import { curveDoubt, economicOptimum, lastToPay, yieldAt } from '../response/curve.ts';
import type { ZoneOption } from './assignment.ts';
import { type Money, netPrice_perBu, seedPrice_perThousand, thousandPlants_bu } from './money.ts';
import { type RateLimits, type RateRange, rateRange } from './rate-range.ts';

/**
 * A product on ground of one yield environment, at its best allowed rate (or at `byHand_seedsPerAc`). Null when no rate is open to it, or its curve does not hold on such ground.
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
  if (curveDoubt(curve) !== null) return null;
  const price = seedPrice_perThousand(product);
  const marginAt = (seedsPerAc: number) =>
    yieldAt(curve, (seedsPerAc * money.emergence) / 1000) * netPrice_perBu(money) -
    (seedsPerAc / 1000) * price;
  const r = thousandPlants_bu(product, money);
  // A straight line tells which end of the stands tried is the better one, and no best stand.
  const optimum = curve.family === 'line' ? NaN : economicOptimum(curve, r) * 1000;
  const optionAt = (seedsPerAc: number, bound: readonly string[], boundCostsPerAc = 0): ZoneOption => ({
    product: index,
    seedsPerAc,
    plantsPerAc: seedsPerAc * money.emergence,
    yield_buPerAc: yieldAt(curve, (seedsPerAc * money.emergence) / 1000),
    seedCostPerAc: (seedsPerAc / 1000) * price,
    marginPerAc: marginAt(seedsPerAc),
    economicOptimum_plantsPerAc: Number.isFinite(optimum) ? optimum : null,
    bound,
    boundCostsPerAc,
  });
  if (byHand_seedsPerAc !== null) return optionAt(byHand_seedsPerAc, ['rate-by-hand']);

  const range = rateRange(product, money.emergence, limits);
  if (range === null) return null;
  const wanted = (lastToPay(curve, r) * 1000) / money.emergence;
  const seedsPerAc = bestStep(marginAt, wanted, range, limits.step_seedsPerAc);
  const bound = boundBy(seedsPerAc, wanted, range, limits.step_seedsPerAc);
  if (bound.length === 0 || bound.includes('tested')) return optionAt(seedsPerAc, bound);
  const free = rateRange(product, money.emergence, { ...limits, ...NO_RATE_LIMITS });
  // A range within the limits is part of one without.
  const best = free ? bestStep(marginAt, wanted, free, limits.step_seedsPerAc) : seedsPerAc;
  return optionAt(seedsPerAc, bound, Math.max(0, marginAt(best) - marginAt(seedsPerAc)));
}

const NO_RATE_LIMITS = { lowest_seedsPerAc: 0, highest_seedsPerAc: null, planter: null };

/**
 * The whole step in the range that earns most, of two that pay alike the lower. What is earned climbs to `wanted` and falls beyond it, and may fall once before it climbs (`lastToPay`): the best step is
 * the first of the range or one of the two about `wanted`, moved into it.
 */
function bestStep(
  marginAt: (seedsPerAc: number) => number,
  wanted: number,
  { from, to }: RateRange,
  step: number,
): number {
  const into = (seeds: number) => Math.min(to, Math.max(from, seeds));
  let best = from;
  for (const seeds of [into(Math.floor(wanted / step) * step), into(Math.ceil(wanted / step) * step)])
    if (marginAt(seeds) > marginAt(best)) best = seeds;
  return best;
}

/** The end of the range that holds the rate off `wanted`, by more than rounding to a step does. */
function boundBy(seedsPerAc: number, wanted: number, range: RateRange, step: number): string[] {
  if (seedsPerAc === range.to && wanted > range.to + step / 2) return [range.toLimit];
  if (seedsPerAc === range.from && (wanted < range.from - step / 2 || wanted >= range.from + step))
    return [range.fromLimit];
  return [];
}
