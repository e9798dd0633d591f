import type { Issue } from '../../engine/issue.ts';
import type { PlacementCheck } from '../../engine/lineup/placement-check.ts';
import type { RatedProduct } from '../../engine/lineup/product.ts';
import type { ZoneChoice } from '../../engine/rates/assignment.ts';
import type { Zoning } from '../../engine/zones/zoning.ts';
import { figure } from '../figures.ts';

/** Notes of the zones where a rule says a product belongs and another is planted: money goes before such a rule, and whoever wrote it should know. */
export function passedOver(
  { zones }: Zoning,
  choices: readonly ZoneChoice[],
  products: readonly RatedProduct[],
  placement: readonly (readonly PlacementCheck[])[],
): Issue[] {
  return choices.flatMap(({ zone, chosen, options }) => {
    const passed = options.filter(
      ({ product }) => product !== chosen.product && placement[zone][product].verdict === 'best',
    );
    if (passed.length === 0 || placement[zone][chosen.product].verdict === 'best') return [];
    const told = passed.map(({ product, marginPerAc }) => {
      const gap = chosen.marginPerAc - marginPerAc;
      return `${products[product].name} belongs there by its rule and would earn ${figure.cents(Math.abs(gap))}/ac ${gap < 0 ? 'more' : 'less'}`;
    });
    return [
      {
        code: 'rule-passed-over',
        severity: 'note',
        where: `zone ${zones[zone].id} ${zones[zone].name}`,
        found: `${products[chosen.product].name} is planted; ${told.join('; ')}`,
        expected: 'a product whose rule says it belongs there',
        effect: 'Rules of where a product is best keep no other out',
        remedy: 'Nothing to do, or set the product by hand',
      } satisfies Issue,
    ];
  });
}
