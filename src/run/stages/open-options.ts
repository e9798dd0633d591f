import { Refusal } from '../../engine/issue.ts';
import type { PlacementCheck } from '../../engine/lineup/placement-check.ts';
import { keptOutText } from '../../engine/lineup/placement-words.ts';
import type { RatedProduct } from '../../engine/lineup/product.ts';
import type { ZoneOption } from '../../engine/rates/assignment.ts';
import type { Money } from '../../engine/rates/money.ts';
import { zoneOption } from '../../engine/rates/zone-option.ts';
import type { Zone } from '../../engine/zones/zoning.ts';
import type { Plan } from '../../plan/schema.ts';
import { figure } from '../figures.ts';
import { noneOpen } from './none-open.ts';
import { topRate } from './top-rate.ts';
import { namesOf } from './usable-lineup.ts';

type ByHand = Plan['rates']['byHand'][number];

/** The products no placement rule keeps out of a zone and whose curves hold there, each at its best allowed rate, or as set by hand. Refuses hand choices that cannot be, and a zone without any. */
export function openOptions(
  zone: Zone,
  products: readonly RatedProduct[],
  placement: readonly PlacementCheck[],
  money: Money,
  rates: Plan['rates'],
): ZoneOption[] {
  const hand = rates.byHand.find((choice) => choice.zone === zone.id);
  if (hand) checkHand(hand, zone, products, placement, rates);
  const open = products.flatMap((product, index) => {
    if (hand?.product && hand.product !== product.id) return [];
    if (placement[index].verdict === 'not here') return [];
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
  if (open.length === 0) throw new Refusal(noneOpen(zone, hand, products, placement, rates));
  return open;
}

function checkHand(
  hand: ByHand,
  zone: Zone,
  products: readonly RatedProduct[],
  placement: readonly PlacementCheck[],
  rates: Plan['rates'],
): void {
  const where = `zone ${zone.id} ${zone.name}`;
  const index = products.findIndex(({ id }) => id === hand.product);
  if (hand.product !== null && index < 0) {
    throw new Refusal({
      code: 'by-hand-no-product',
      where,
      found: `${hand.product} set by hand, which is not among the products in use`,
      expected: `one of ${namesOf(products.map((product) => product.id))}`,
      effect: 'The zone has no product, so no plan is made',
      remedy: 'Set one of these, or take the hand choice back',
    });
  }
  if (index >= 0 && placement[index].verdict === 'not here') {
    throw new Refusal({
      code: 'by-hand-not-here',
      where,
      found: `${products[index].name} set by hand, which must not go there ${keptOutText(placement[index])}`,
      expected: 'a product none of whose placement rules keeps it out of the zone',
      effect: 'The choice is not taken, so no plan is made',
      remedy: 'Take the hand choice back, or change the rule in the lineup',
    });
  }
  const { seedsPerAc } = hand;
  if (seedsPerAc === null) return;
  const top = topRate(rates);
  const over = top !== null && seedsPerAc > top.seedsPerAc;
  const under = seedsPerAc < rates.lowest_seedsPerAc;
  if (!over && !under) return;
  throw new Refusal({
    code: 'by-hand-beyond-limit',
    where,
    found: `${figure.whole(seedsPerAc)} seeds/ac set by hand`,
    expected: over
      ? top.says
      : `no less than ${figure.whole(rates.lowest_seedsPerAc)}, the lowest rate of the plan`,
    effect: 'The rate is not taken, so no plan is made',
    remedy: 'Set a rate within the limits, change the limit, or take the hand choice back',
  });
}
