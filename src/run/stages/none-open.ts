import type { PlacementCheck } from '../../engine/lineup/placement-check.ts';
import { keptOutText } from '../../engine/lineup/placement-words.ts';
import type { RatedProduct } from '../../engine/lineup/product.ts';
import type { Zone } from '../../engine/zones/zoning.ts';
import type { Plan } from '../../plan/schema.ts';
import { figure } from '../figures.ts';
import { groundDoubt } from './curve-holds.ts';
import { topRate } from './top-rate.ts';

/** Products told with what keeps them out. */
const MOST_TOLD = 10;

/** Why a zone is left without a product: what keeps each of them out. */
export function noneOpen(
  zone: Zone,
  hand: Plan['rates']['byHand'][number] | undefined,
  products: readonly RatedProduct[],
  placement: readonly PlacementCheck[],
  rates: Plan['rates'],
) {
  const allowed = ratesAllowed(rates);
  const none = {
    code: 'zone-without-product',
    where: `zone ${zone.id} ${zone.name}`,
    expected: `a product whose tested stands leave a rate ${allowed.says}`,
    effect: 'The zone has no rate, so no plan is made',
  };
  const ground = `ground of ${figure.tenth(zone.environment_buPerAc)} bu/ac`;
  if (hand?.product) {
    const own = products.find(({ id }) => id === hand.product);
    const doubt = own ? groundDoubt(own, zone) : null;
    if (doubt !== null)
      return {
        ...none,
        found: `${hand.product} set by hand, whose curve does not hold on ${ground}: ${doubt}`,
        expected: 'a product whose curve holds there',
        remedy: 'Take the hand choice back, or use figures from trials on such ground',
      };
    return {
      ...none,
      found: `${hand.product} set by hand, none of whose tested stands is such a rate`,
      remedy: sentence(`${allowed.remedy}, or take the hand choice back`),
    };
  }
  const closed: string[] = [];
  const failing: string[] = [];
  products.forEach((product, index) => {
    const doubt = groundDoubt(product, zone);
    if (placement[index].verdict === 'not here')
      closed.push(`${product.name} ${keptOutText(placement[index])}`);
    else if (doubt !== null) failing.push(`${product.name}: ${doubt}`);
  });
  if (closed.length + failing.length === 0)
    return {
      ...none,
      found: `${figure.count(products.length, 'product')}, none with a tested stand at such a rate`,
      remedy: sentence(`${allowed.remedy}, or add a product`),
    };
  const others = products.length - closed.length - failing.length;
  const many = (names: readonly string[]) => (names.length === products.length ? 'all' : names.length);
  const parts = [
    ...(others > 0 ? [`${others} without a rate within the limits`] : []),
    ...(closed.length > 0 ? [`${many(closed)} kept out by placement rules: ${firstOf(closed)}`] : []),
    ...(failing.length > 0
      ? [`${many(failing)} with a curve that does not hold on ${ground}: ${firstOf(failing)}`]
      : []),
  ];
  const remedies = [
    ...(closed.length > 0 ? ['change a rule in the lineup'] : []),
    ...(failing.length > 0 ? ['check the yield expected of the field'] : []),
    ...(others > 0 ? [allowed.remedy] : []),
    'or add a product for such ground',
  ].join(', ');
  return {
    ...none,
    found: `${figure.count(products.length, 'product')}, ${parts.join(', ')}`,
    expected: `a product that may go there, whose curve holds there, and whose tested stands leave a rate ${allowed.says}`,
    remedy: sentence(remedies),
  };
}

/** Between which rates the plan and the planter leave a choice, in words, and how there would be more. */
function ratesAllowed(rates: Plan['rates']) {
  const top = topRate(rates);
  const lowest = rates.lowest_seedsPerAc;
  const says = [
    `in steps of ${figure.whole(rates.step_seedsPerAc)} seeds/ac`,
    ...(lowest > 0 ? [`no less than ${figure.whole(lowest)}`] : []),
    ...(top ? [top.says] : []),
  ].join(', ');
  if (top?.by === 'meter')
    return { says, remedy: 'drive slower or change what the plan says of the planter' };
  return {
    says,
    remedy: top || lowest > 0 ? 'widen the rate limits or take smaller steps' : 'take smaller steps',
  };
}

function sentence(text: string): string {
  return text[0].toUpperCase() + text.slice(1);
}

function firstOf(texts: readonly string[]): string {
  const more = texts.length - MOST_TOLD;
  return `${texts.slice(0, MOST_TOLD).join('; ')}${more > 0 ? `; and ${more} more` : ''}`;
}
