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
  return eachLimit(area_ac.length, hoppers, limits, products).flatMap(
    ({ limit, says, without }): LimitPrice[] => {
      const freed = chooseProducts(open, area_ac, without.hoppers, without.limits);
      if (freed === null) return [];
      if (freely === null) return [{ limit, says, costsPerAc: null }];
      const costsPerAc = earned(freed) - earned(freely);
      return costsPerAc > NOTHING_PER_AC ? [{ limit, says, costsPerAc }] : [];
    },
  );
}

/** A limit in words, and what is left of all of them without it. */
interface TakenOff extends Pick<LimitPrice, 'limit' | 'says'> {
  readonly without: { readonly hoppers: number; readonly limits: ProductLimits };
}

/** The limits there are: as many hoppers as zones are none. */
export function eachLimit(
  zones: number,
  hoppers: number,
  limits: ProductLimits,
  products: readonly RatedProduct[],
): TakenOff[] {
  const { leastAcres, mostAcres, mustUse, seedsOnHand } = limits;
  const named = (own: Iterable<number>) => [...own].map((product) => products[product].name).join(' and ');
  const off = (limit: LimitPrice['limit'], says: string, change: Partial<ProductLimits>): TakenOff => ({
    ...{ limit, says },
    without: { hoppers, limits: { ...limits, ...change } },
  });
  const { leastAcres: noLeast, mostAcres: noMost } = NO_PRODUCT_LIMITS;
  const found: TakenOff[] = [];
  if (hoppers < zones)
    found.push({
      limit: 'hoppers',
      says: `${figure.count(hoppers, 'hopper')} and not one more`,
      without: { hoppers: hoppers + 1, limits },
    });
  if (leastAcres > noLeast)
    found.push(
      off('least acres', `${figure.tenth(leastAcres)} ac or more of a product`, { leastAcres: noLeast }),
    );
  if (mostAcres < noMost)
    found.push(
      off('most acres', `no more than ${figure.tenth(mostAcres)} ac of a product`, { mostAcres: noMost }),
    );
  if (mustUse.length > 0) found.push(off('must use', `${named(mustUse)} to be planted`, { mustUse: [] }));
  for (const [product, seeds] of seedsOnHand)
    found.push(
      off('seed on hand', `${figure.whole(seeds)} seeds of ${named([product])} on hand`, {
        seedsOnHand: new Map([...seedsOnHand].filter(([own]) => own !== product)),
      }),
    );
  return found;
}
