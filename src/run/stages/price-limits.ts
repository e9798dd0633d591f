import type { RatedProduct } from '../../engine/lineup/product.ts';
import type { ZoneChoice, ZoneOption } from '../../engine/rates/assignment.ts';
import { chooseProducts } from '../../engine/rates/choose-products.ts';
import { NO_PRODUCT_LIMITS, type ProductLimits } from '../../engine/rates/product-limits.ts';
import { figure } from '../figures.ts';

/** A limit on products, in words, and what the field would earn more an acre without it: null where without it a plan could be made and with it none. */
export interface LimitPrice {
  readonly limit: 'hoppers' | 'least acres' | 'most acres' | 'must use' | 'seed on hand';
  readonly says: string;
  readonly costsPerAc: number | null;
}

/** Under this a limit binds in name only, $/ac. */
const NOTHING_PER_AC = 0.005;

/** What each limit of the plan costs, rates by hand left out of it, taken off by itself: only those that cost something, or that are what no plan can keep (`freely` null). */
export function priceLimits(
  open: readonly (readonly ZoneOption[])[],
  area_ac: readonly number[],
  hoppers: number,
  limits: ProductLimits,
  freely: readonly ZoneChoice[] | null,
  products: readonly RatedProduct[],
): LimitPrice[] {
  const acres = area_ac.reduce((sum, own) => sum + own, 0);
  const earned = (own: readonly ZoneChoice[]) =>
    own.reduce((sum, { chosen }, k) => sum + chosen.marginPerAc * area_ac[k], 0) / acres;
  const without = (
    limit: LimitPrice['limit'],
    says: string,
    more: number,
    own: ProductLimits,
  ): LimitPrice[] => {
    const freed = chooseProducts(open, area_ac, hoppers + more, own);
    if (freed === null) return [];
    if (freely === null) return [{ limit, says, costsPerAc: null }];
    const costsPerAc = earned(freed) - earned(freely);
    return costsPerAc > NOTHING_PER_AC ? [{ limit, says, costsPerAc }] : [];
  };
  const { leastAcres, mostAcres, mustUse, seedsOnHand } = limits;
  const named = (own: Iterable<number>) => [...own].map((product) => products[product].name).join(' and ');
  return [
    ...without('hoppers', `${figure.count(hoppers, 'hopper')} and not one more`, 1, limits),
    ...(leastAcres > 0
      ? without('least acres', `${figure.tenth(leastAcres)} ac or more of a product`, 0, {
          ...limits,
          leastAcres: NO_PRODUCT_LIMITS.leastAcres,
        })
      : []),
    ...(mostAcres < Infinity
      ? without('most acres', `no more than ${figure.tenth(mostAcres)} ac of a product`, 0, {
          ...limits,
          mostAcres: NO_PRODUCT_LIMITS.mostAcres,
        })
      : []),
    ...(mustUse.length > 0
      ? without('must use', `${named(mustUse)} to be planted`, 0, { ...limits, mustUse: [] })
      : []),
    ...[...seedsOnHand].flatMap(([product, seeds]) =>
      without('seed on hand', `${figure.whole(seeds)} seeds of ${named([product])} on hand`, 0, {
        ...limits,
        seedsOnHand: new Map([...seedsOnHand].filter(([own]) => own !== product)),
      }),
    ),
  ];
}
