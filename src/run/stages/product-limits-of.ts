import { type Issue, Refusal } from '../../engine/issue.ts';
import type { RatedProduct } from '../../engine/lineup/product.ts';
import type { ProductLimits } from '../../engine/rates/product-limits.ts';
import type { Plan } from '../../plan/schema.ts';
import { namesOf } from './usable-lineup.ts';

/** What the plan says of least and most acres, of products to be planted and of seed on hand, by the products in use. Refuses one to be planted that is not among them; tells of seed of others. */
export function productLimitsOf(
  rates: Pick<Plan['rates'], 'leastAcres' | 'mostShare' | 'mustUse' | 'onHand'>,
  products: readonly RatedProduct[],
  acres: number,
  issues: Issue[],
): ProductLimits {
  const indexOf = (id: string) => products.findIndex((product) => product.id === id);
  const known = `the id of a product in use: ${namesOf(products.map(({ id }) => id))}`;
  const missing = rates.mustUse.find((id) => indexOf(id) < 0);
  if (missing !== undefined)
    throw new Refusal({
      code: 'must-use-no-product',
      where: 'rates.mustUse',
      found: missing,
      expected: known,
      effect: 'It cannot be planted, so no plan is made',
      remedy: 'Correct the id, give that product a price and a response, or take it out of the list',
    });
  for (const { product } of rates.onHand) {
    if (indexOf(product) >= 0) continue;
    issues.push({
      code: 'on-hand-no-product',
      severity: 'warning',
      where: 'rates.onHand',
      found: product,
      expected: known,
      effect: 'Its seed is not counted',
      remedy: 'Correct the id, or take it out of the list',
    });
  }
  return {
    leastAcres: rates.leastAcres,
    mostAcres: rates.mostShare < 1 ? rates.mostShare * acres : Infinity,
    mustUse: [...new Set(rates.mustUse)].map(indexOf),
    seedsOnHand: new Map(
      rates.onHand.flatMap(({ product, units }) => {
        const index = indexOf(product);
        return index < 0 ? [] : [[index, units * products[index].seedsPerUnit] as const];
      }),
    ),
  };
}
