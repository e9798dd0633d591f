import type { ProductRow } from './assign-within.ts';
import type { ZoneChoice, ZoneOption } from './assignment.ts';
import { chooseUnderLimits } from './choose-under-limits.ts';
import { NO_PRODUCT_LIMITS, type ProductLimits } from './product-limits.ts';

/**
 * The product of each zone, so that the whole field earns most with at most `hoppers` products under the limits, exact to a cent over the field. `options[zone]` holds the open options of a zone. A
 * product more must bring over a cent; of products that earn the same the earlier in the lineup is taken. Null when none serves every zone and keeps the limits.
 */
export function chooseProducts(
  options: readonly (readonly ZoneOption[])[],
  area_ac: readonly number[],
  hoppers: number,
  limits: ProductLimits = NO_PRODUCT_LIMITS,
): ZoneChoice[] | null {
  const planted = chooseUnderLimits(rowsOf(options, area_ac, limits), area_ac, hoppers, limits);
  return planted && options.map((zone, k) => choiceOf(zone, k, planted[k]));
}

/** The option of a zone for its product, and all of them, best first. */
function choiceOf(zone: readonly ZoneOption[], k: number, planted: number): ZoneChoice {
  const sorted = [...zone].sort((a, b) => b.marginPerAc - a.marginPerAc || a.product - b.product);
  return {
    zone: k,
    chosen: sorted.find(({ product }) => product === planted) as ZoneOption,
    options: sorted,
  };
}

/** By product, in the lineup's order: what it earns on all of each zone, $, and the seeds it takes there, by the rate set by hand where there is one. */
function rowsOf(
  options: readonly (readonly ZoneOption[])[],
  area_ac: readonly number[],
  { handRates }: ProductLimits,
): ProductRow[] {
  const rows = new Map<number, ProductRow>();
  options.forEach((zone, k) => {
    for (const { product, marginPerAc, seedsPerAc } of zone) {
      const row = rows.get(product) ?? closed(product, options.length);
      row.earns[k] = marginPerAc * area_ac[k];
      row.seeds[k] = (handRates?.get(k) ?? seedsPerAc) * area_ac[k];
      rows.set(product, row);
    }
  });
  return [...rows.values()].sort((a, b) => a.product - b.product);
}

function closed(product: number, zones: number): ProductRow {
  return { product, earns: new Float64Array(zones).fill(-Infinity), seeds: new Float64Array(zones) };
}
