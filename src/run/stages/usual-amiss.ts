import type { Issue } from '../../engine/issue.ts';
import { curveAt, type RatedProduct } from '../../engine/lineup/product.ts';
import { curveDoubt, yieldAt } from '../../engine/response/curve.ts';
import type { Zoning } from '../../engine/zones/zoning.ts';
import type { Plan } from '../../plan/schema.ts';
import { figure } from '../figures.ts';
import { namesOf } from './usable-lineup.ts';

/** Why the plan cannot be held against the usual planting; null where it can. */
export function usualAmiss(
  { product: id, seedsPerAc }: NonNullable<Plan['worth']['usual']>,
  index: number,
  products: readonly RatedProduct[],
  { zones }: Zoning,
  emergence: number,
): Issue | null {
  const amiss = {
    severity: 'warning',
    where: 'worth.usual',
    effect: 'The plan is not held against what is usually planted',
  } as const;
  if (index < 0)
    return {
      ...amiss,
      code: 'usual-no-product',
      found: id,
      expected: `the id of a product in use: ${namesOf(products.map((product) => product.id))}`,
      remedy: 'Correct the id, or give that product a price and a response',
    };
  for (const zone of zones) {
    const curve = curveAt(products[index], zone.environment_buPerAc);
    const bushels = yieldAt(curve, (seedsPerAc * emergence) / 1000);
    if (curveDoubt(curve) === null && bushels > 0) continue;
    return {
      ...amiss,
      code: 'usual-without-yield',
      found: `${products[index].name} at ${figure.whole(seedsPerAc)} seeds/ac, of which its curve tells no yield on ground of ${figure.tenth(zone.environment_buPerAc)} bu/ac (zone ${zone.id} ${zone.name})`,
      expected: 'a yield over zero in every zone',
      remedy: 'Say another rate or product, or check the yield expected of the field',
    };
  }
  return null;
}
