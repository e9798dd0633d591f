import type { RatedProduct } from '../../engine/lineup/product.ts';
import type { ZoneOption } from '../../engine/rates/assignment.ts';
import { chooseProducts } from '../../engine/rates/choose-products.ts';
import { areProductLimits, type ProductLimits } from '../../engine/rates/product-limits.ts';
import { figure } from '../figures.ts';
import { eachLimit, priceLimits } from './price-limits.ts';

/** No set of products serves every zone under the limits: which of them, taken off by itself, would let one; all of them where no one alone would. */
export function noPlanWithin(
  open: readonly (readonly ZoneOption[])[],
  area_ac: readonly number[],
  hoppers: number,
  limits: ProductLimits,
  products: readonly RatedProduct[],
) {
  const none = {
    effect: 'No set of products serves every zone, so no plan is made',
    expected:
      'limits that leave a product to each zone, with what hand choices and placement rules leave to it',
  };
  const freed = priceLimits(open, area_ac, hoppers, limits, null, products);
  const hoppersAlone =
    freed.length > 0
      ? freed.every(({ limit }) => limit === 'hoppers')
      : chooseProducts(open, area_ac, hoppers) === null;
  if (hoppersAlone)
    return {
      ...none,
      code: areProductLimits(limits) && freed.length > 0 ? 'limits-contradict' : 'hoppers-too-few',
      where: 'rates.hoppers',
      found: freed[0]?.says ?? figure.count(hoppers, 'hopper'),
      remedy: `Set fewer products by hand, change a placement rule, or allow ${freed.length > 0 ? 'one more hopper' : 'more hoppers'}`,
    };
  const told = freed.length > 0 ? freed : eachLimit(area_ac.length, hoppers, limits, products);
  const takeOff =
    freed.length === 0
      ? 'Take off several of these limits, for no one alone would do, set fewer products by hand, or change a placement rule'
      : freed.length > 1
        ? 'Take off any one of these limits'
        : 'Take off that limit';
  // What is on hand may go further at another rate.
  const rates = (limits.handRates?.size ?? 0) > 0 && told.some(({ limit }) => limit === 'seed on hand');
  return {
    ...none,
    code: 'limits-contradict',
    where: 'rates',
    found: told.map(({ says }) => says).join('; '),
    remedy: rates ? `${takeOff}, or set lower rates by hand` : takeOff,
  };
}
