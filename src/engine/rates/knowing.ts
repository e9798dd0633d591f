import type { RatedProduct } from '../lineup/product.ts';
import { FIGURES } from '../response/fit/figures.ts';
import type { ZoneChoice } from './assignment.ts';
import { marginsByWorld } from './earnings-by-world.ts';
import type { Ground } from './ground.ts';
import { type Money, seedPrice_perThousand } from './money.ts';
import { type RateLimits, rateRange } from './rate-range.ts';
import type { Worlds } from './worlds.ts';
import { type YieldPlane, yieldOnPlane, yieldPlane } from './yield-plane.ts';

/** Rates looked at of a product: near its best one a margin is so level that more would bring cents. */
const RATES = 9;
/** Margins reckoned at most, some tenth of a second of work; with more products fewer worlds are looked at. */
const MOST = 6_000_000;
const FEWEST_WORLDS = 100;

/**
 * What the plan earns less than the best of the open products at their best open rates would, zone by zone and world by world, $/ac: what it costs to act on what trials and evidence tell instead of the truth, and the most
 * that better ones could bring (expected value of perfect information: Raiffa & Schlaifer 1961, Applied Statistical Decision Theory). The number of hoppers is left out of it.
 */
export function worthOfKnowing(
  choices: readonly ZoneChoice[],
  products: readonly RatedProduct[],
  ground: readonly Ground[],
  money: Money,
  limits: RateLimits,
  worlds: Worlds,
): number {
  const rates = choices.map(({ options }) =>
    options.flatMap(({ product }) => (worlds.drawn.has(product) ? openRates(product) : [])),
  );
  const each = rates.reduce((sum, own) => sum + own.length, 0);
  const count = Math.min(worlds.count, Math.max(FEWEST_WORLDS, Math.floor(MOST / each)));
  const acres = ground.reduce((sum, { area_ac }) => sum + area_ac, 0);
  return choices.reduce((sum, { chosen }, zone) => {
    const best = marginsByWorld(chosen, zone, products, ground, money, worlds);
    const own = best.slice(0, count);
    for (const { product, seedsPerAc } of rates[zone]) {
      const stand_k = (seedsPerAc * money.emergence) / 1000;
      const plane = yieldPlane(products[product], ground[zone].environment_buPerAc, stand_k);
      const seed = (seedsPerAc / 1000) * seedPrice_perThousand(products[product]);
      raise(best, count, plane, seed, worlds, product, zone);
    }
    let gained = 0;
    for (let world = 0; world < count; world++) gained += best[world] - own[world];
    return sum + ((ground[zone].area_ac / acres) * gained) / count;
  }, 0);

  function openRates(product: number) {
    const range = rateRange(products[product], money.emergence, limits);
    if (range === null) return [];
    const step = limits.step_seedsPerAc;
    const apart = Math.max(step, Math.round((range.to - range.from) / (RATES - 1) / step) * step);
    const found: { product: number; seedsPerAc: number }[] = [];
    for (let seedsPerAc = range.from; seedsPerAc <= range.to; seedsPerAc += apart)
      found.push({ product, seedsPerAc });
    return found;
  }
}

/** Lifts what the best brings in each of the first worlds to what this brings, where it is more. */
function raise(
  best: Float64Array,
  count: number,
  plane: YieldPlane,
  seed: number,
  { figures, ground_buPerAc, netPrice_perBu }: Worlds,
  product: number,
  zone: number,
): void {
  const own = figures[product];
  const away = ground_buPerAc[zone];
  for (let world = 0; world < count; world++) {
    const margin = netPrice_perBu[world] * yieldOnPlane(plane, own, FIGURES * world, away[world]) - seed;
    if (margin > best[world]) best[world] = margin;
  }
}
