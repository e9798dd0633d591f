import type { RatedProduct } from '../lineup/product.ts';
import { treatmentPrice } from '../lineup/treated-seed.ts';
import { M2_PER_ACRE } from '../math/units.ts';
import type { ZoneChoice } from '../rates/assignment.ts';
import { seedPrice_perThousand } from '../rates/money.ts';
import type { Zoning } from '../zones/zoning.ts';
import type { Ledger, LedgerRow, ProductLedgerRow, ZoneLedgerRow } from './ledger.ts';
import { type OrderTerms, orderOf } from './order.ts';

/** Not a seed more, by the unit. */
const AS_PLANTED: OrderTerms = { spare: 0, unitsPerBox: null };

/** The ledger of a plan: seeds rounded to whole ones by zone, everything above added up from there, so that it closes to the seed. */
export function closeLedger(
  zoning: Zoning,
  choices: readonly ZoneChoice[],
  products: readonly RatedProduct[],
  terms: OrderTerms = AS_PLANTED,
): Ledger {
  const byZone: ZoneLedgerRow[] = zoning.zones.map((zone, k) => {
    const { chosen } = choices[k];
    const product = products[chosen.product];
    const acres = zone.area_m2 / M2_PER_ACRE;
    const seeds = Math.round(acres * chosen.seedsPerAc);
    return {
      zone: zone.id,
      name: zone.name,
      product: chosen.product,
      productName: product.name,
      acres,
      plantsPerAc: chosen.plantsPerAc,
      seedsPerAc: chosen.seedsPerAc,
      yield_buPerAc: chosen.yield_buPerAc,
      marginPerAc: chosen.marginPerAc,
      seeds,
      units: seeds / product.seedsPerUnit,
      seedCost: (seeds / 1000) * seedPrice_perThousand(product),
      treatmentCost: (seeds / product.seedsPerUnit) * treatmentPrice(product.treatments),
    };
  });
  const used = [...new Set(byZone.map((row) => row.product))].sort((a, b) => a - b);
  const byProduct: ProductLedgerRow[] = used.map((product) => ({
    product,
    productName: products[product].name,
    ...addUp(byZone.filter((row) => row.product === product)),
  }));
  return { byZone, byProduct, total: addUp(byProduct), order: orderOf(byProduct, products, terms) };
}

function addUp(rows: readonly LedgerRow[]): LedgerRow {
  const total = { acres: 0, seeds: 0, units: 0, seedCost: 0, treatmentCost: 0 };
  for (const row of rows) {
    total.acres += row.acres;
    total.seeds += row.seeds;
    total.units += row.units;
    total.seedCost += row.seedCost;
    total.treatmentCost += row.treatmentCost;
  }
  return total;
}
