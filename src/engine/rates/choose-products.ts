import type { ZoneChoice, ZoneOption } from './assignment.ts';

/**
 * The product of each zone, so that the whole field earns most with at most `hoppers` products: every set of that size is tried
 * (exact; 4 of 30 products are 27,405 sets). `options[zone]` holds the open options of a zone. Ties go to the set met first, which is the one
 * with fewer products, earlier in the lineup. Null when no set serves every zone.
 */
export function chooseProducts(
  options: readonly (readonly ZoneOption[])[],
  area_ac: readonly number[],
  hoppers: number,
): ZoneChoice[] | null {
  const products = [...new Set(options.flat().map((option) => option.product))].sort((a, b) => a - b);
  const margin = options.map((zone) => new Map(zone.map((option) => [option.product, option.marginPerAc])));
  let bestSet: readonly number[] | null = null;
  let bestMargin = -Infinity;
  for (let size = 1; size <= Math.min(hoppers, products.length); size++) {
    for (const set of subsets(products, size)) {
      let total = 0;
      for (let zone = 0; zone < options.length; zone++) {
        let best = -Infinity;
        for (const product of set) best = Math.max(best, margin[zone].get(product) ?? -Infinity);
        total += best * area_ac[zone];
      }
      // A cent over the whole field is the least that counts as better.
      if (total > bestMargin + 0.01) {
        bestMargin = total;
        bestSet = set;
      }
    }
  }
  if (bestSet === null || bestMargin === -Infinity) return null;
  const inSet = new Set(bestSet);
  return options.map((zone, k) => {
    const sorted = [...zone].sort((a, b) => b.marginPerAc - a.marginPerAc || a.product - b.product);
    const chosen = sorted.find((option) => inSet.has(option.product)) as ZoneOption;
    return { zone: k, chosen, options: sorted };
  });
}

function* subsets(items: readonly number[], size: number, from = 0): Generator<number[]> {
  if (size === 0) {
    yield [];
    return;
  }
  for (let k = from; k <= items.length - size; k++) {
    for (const rest of subsets(items, size - 1, k + 1)) yield [items[k], ...rest];
  }
}
