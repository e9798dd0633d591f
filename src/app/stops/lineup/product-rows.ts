import type { Product } from '../../../engine/lineup/product.ts';
import { sameCrop } from '../../../engine/math/crop-name.ts';
import type { ZoneOption } from '../../../engine/rates/assignment.ts';
import type { Lineup } from '../../../plan/lineup-schema.ts';
import type { Results } from '../../../run/results.ts';
import { productNames } from './product-names.ts';

/** A product of the crop; with a piece of ground, what it would earn there. */
export interface ProductRow {
  readonly product: Product;
  /** Its name, told apart from others alike. */
  readonly name: string;
  /** Place among the products a rate can be set for; −1 where none can. */
  readonly index: number;
  readonly option: ZoneOption | null;
  readonly planted: boolean;
  /** What keeps it from being placed here, in a few words; '' where nothing does. */
  readonly held: string;
}

/** Who earns most on the zone first; then those that cannot be placed there, those without a price last. */
export function productRows(lineup: Lineup, crop: string, results: Results, zone: number): ProductRow[] {
  const choice = results.choices?.[zone] ?? null;
  const places = new Map(results.lineup.map(({ id }, index) => [id, index]));
  const options = new Map(choice?.options.map((option) => [option.product, option]));
  const names = productNames(lineup.products);
  const rows = lineup.products.map((product, k): ProductRow => {
    const index = places.get(product.id) ?? -1;
    return {
      product,
      name: names[k],
      index,
      option: options.get(index) ?? null,
      planted: index >= 0 && choice?.chosen.product === index,
      held: heldWords(
        product,
        results.placement?.[zone]?.[index]?.verdict,
        results.zoning?.zones[zone]?.name,
      ),
    };
  });
  return rows.filter(({ product }) => sameCrop(product.crop, crop)).sort(byEarnings);
}

function heldWords({ response, pricePerUnit }: Product, verdict: string | undefined, zone = ''): string {
  const lacking = [
    ...(response === null ? ['no response known'] : []),
    ...(pricePerUnit === null ? ['no price'] : []),
  ];
  if (lacking.length > 0) return lacking.join(', ');
  if (verdict === 'not here') return `not on ${zone}`;
  return verdict === 'care' ? 'with care here' : '';
}

function byEarnings(a: ProductRow, b: ProductRow): number {
  const rank = ({ option, product }: ProductRow) => (option ? 0 : product.pricePerUnit !== null ? 1 : 2);
  return rank(a) - rank(b) || (b.option?.marginPerAc ?? 0) - (a.option?.marginPerAc ?? 0);
}
