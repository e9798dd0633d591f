import { Refusal } from '../../engine/issue.ts';
import type { RatedProduct } from '../../engine/lineup/product.ts';
import type { ZoneOption } from '../../engine/rates/assignment.ts';
import type { Money } from '../../engine/rates/money.ts';
import { zoneOption } from '../../engine/rates/zone-option.ts';
import type { Zone } from '../../engine/zones/zoning.ts';
import type { Plan } from '../../plan/schema.ts';
import { figure } from '../figures.ts';
import { namesOf } from './usable-lineup.ts';

type ByHand = Plan['rates']['byHand'][number];

/** The products open to a zone, each at its best allowed rate, or as set by hand. Refuses hand choices that cannot be, and a zone without any. */
export function openOptions(
  zone: Zone,
  products: readonly RatedProduct[],
  money: Money,
  rates: Plan['rates'],
): ZoneOption[] {
  const hand = rates.byHand.find((choice) => choice.zone === zone.id);
  if (hand) checkHand(hand, zone, products, rates);
  const open = products.flatMap((product, index) => {
    if (hand?.product && hand.product !== product.id) return [];
    const option = zoneOption(
      product,
      index,
      zone.environment_buPerAc,
      money,
      rates,
      hand?.seedsPerAc ?? null,
    );
    if (option === null) return [];
    return [hand?.product ? { ...option, bound: ['product-by-hand', ...option.bound] } : option];
  });
  if (open.length === 0) {
    throw new Refusal({
      code: 'zone-without-product',
      where: `zone ${zone.id} ${zone.name}`,
      found: hand?.product ? `${hand.product} set by hand` : `${products.length} products`,
      expected: 'a product whose tested stands and the rate limits leave a rate',
      effect: 'The zone has no rate, so no plan is made',
      remedy: hand?.product
        ? 'Widen the rate limits, or take the hand choice back'
        : 'Widen the rate limits, or add a product',
    });
  }
  return open;
}

function checkHand(hand: ByHand, zone: Zone, products: readonly RatedProduct[], rates: Plan['rates']): void {
  const where = `zone ${zone.id} ${zone.name}`;
  if (hand.product !== null && !products.some((product) => product.id === hand.product)) {
    throw new Refusal({
      code: 'by-hand-no-product',
      where,
      found: `${hand.product} set by hand, which is not among the products in use`,
      expected: `one of ${namesOf(products.map((product) => product.id))}`,
      effect: 'The zone has no product, so no plan is made',
      remedy: 'Set one of these, or take the hand choice back',
    });
  }
  const { seedsPerAc } = hand;
  if (seedsPerAc === null) return;
  const over = rates.highest_seedsPerAc !== null && seedsPerAc > rates.highest_seedsPerAc;
  const under = seedsPerAc < rates.lowest_seedsPerAc;
  if (!over && !under) return;
  throw new Refusal({
    code: 'by-hand-beyond-limit',
    where,
    found: `${figure.whole(seedsPerAc)} seeds/ac set by hand`,
    expected: over
      ? `no more than ${figure.whole(rates.highest_seedsPerAc ?? 0)}, the highest rate of the plan`
      : `no less than ${figure.whole(rates.lowest_seedsPerAc)}, the lowest rate of the plan`,
    effect: 'The rate is not taken, so no plan is made',
    remedy: 'Set a rate within the limits, change the limit, or take the hand choice back',
  });
}
