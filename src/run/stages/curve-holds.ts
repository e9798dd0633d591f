import type { Issue } from '../../engine/issue.ts';
import { curveAt, type RatedProduct } from '../../engine/lineup/product.ts';
import { curveDoubt } from '../../engine/response/curve.ts';
import type { Zone } from '../../engine/zones/zoning.ts';
import { figure } from '../figures.ts';

/** Products told by name. */
const MOST_TOLD = 10;

/** Why a product's curve does not hold on the ground of a zone, in words; null where it does. Its stand and level follow the ground, and far from the trials may lead out of all sense. */
export function groundDoubt(product: RatedProduct, zone: Zone): string | null {
  return curveDoubt(curveAt(product, zone.environment_buPerAc));
}

/** A warning of the products that are not placed in some zones since their curves do not hold there; none where all do. */
export function curveIssues(zones: readonly Zone[], products: readonly RatedProduct[]): Issue[] {
  const told = products.flatMap((product) => {
    const where = zones.filter((zone) => groundDoubt(product, zone) !== null);
    if (where.length === 0) return [];
    const ground = where.map((zone) => `zone ${zone.id} ${zone.name}`).join(', ');
    return [`${product.name} in ${ground}: ${groundDoubt(product, where[0])}`];
  });
  if (told.length === 0) return [];
  const more = told.length - MOST_TOLD;
  const ground = zones.map((zone) => zone.environment_buPerAc);
  return [
    {
      code: 'curve-does-not-hold',
      severity: 'warning',
      where: 'lineup',
      found: `${told.slice(0, MOST_TOLD).join('; ')}${more > 0 ? `; and ${more} more` : ''}`,
      expected: `curves that hold on all ground of the field, ${figure.tenth(Math.min(...ground))} to ${figure.tenth(Math.max(...ground))} bu/ac`,
      effect: 'They are not placed there, nor everywhere in a flat plan',
      remedy: 'Check the yield expected of the field, or use figures from trials on such ground',
    },
  ];
}
