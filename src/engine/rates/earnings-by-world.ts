import type { RatedProduct } from '../lineup/product.ts';
import { FIGURES } from '../response/fit/figures.ts';
import type { Ground } from './ground.ts';
import { type Money, seedPrice_perThousand } from './money.ts';
import type { Worlds } from './worlds.ts';
import { yieldOnPlane, yieldPlane } from './yield-plane.ts';

/** A product at a rate. */
export interface Planted {
  readonly product: number;
  readonly seedsPerAc: number;
}

/** What a product at a rate earns over its seed on the ground of one zone, $/ac, world by world. */
export function marginsByWorld(
  { product, seedsPerAc }: Planted,
  zone: number,
  products: readonly RatedProduct[],
  ground: readonly Ground[],
  money: Pick<Money, 'emergence'>,
  worlds: Worlds,
): Float64Array {
  const own = products[product];
  const plane = yieldPlane(own, ground[zone].environment_buPerAc, (seedsPerAc * money.emergence) / 1000);
  const seed = (seedsPerAc / 1000) * seedPrice_perThousand(own);
  const figures = worlds.figures[product];
  const away = worlds.ground_buPerAc[zone];
  return Float64Array.from(
    worlds.netPrice_perBu,
    (net, world) => net * yieldOnPlane(plane, figures, FIGURES * world, away[world]) - seed,
  );
}

/** The same over all the ground, each zone planted to its own, $/ac of the field. */
export function earningsByWorld(
  planted: readonly Planted[],
  products: readonly RatedProduct[],
  ground: readonly Ground[],
  money: Pick<Money, 'emergence'>,
  worlds: Worlds,
): Float64Array {
  const acres = ground.reduce((sum, { area_ac }) => sum + area_ac, 0);
  const whole = new Float64Array(worlds.count);
  for (const [zone, own] of planted.entries()) {
    const share = ground[zone].area_ac / acres;
    const margins = marginsByWorld(own, zone, products, ground, money, worlds);
    for (let world = 0; world < worlds.count; world++) whole[world] += share * margins[world];
  }
  return whole;
}
