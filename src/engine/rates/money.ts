import type { RatedProduct } from '../lineup/product.ts';

/** Prices and emergence the rates are set by. */
export interface Money {
  readonly grainPrice_perBu: number;
  readonly dryingHauling_perBu: number;
  /** Plants standing per seed dropped. */
  readonly emergence: number;
}

/** What a bushel is worth at the field, $/bu. */
export function netPrice_perBu(money: Money): number {
  return money.grainPrice_perBu - money.dryingHauling_perBu;
}

export function seedPrice_perThousand(product: RatedProduct): number {
  return (product.pricePerUnit / product.seedsPerUnit) * 1000;
}

/** A thousand plants, in bushels: what `economicOptimum` calls r. */
export function thousandPlants_bu(product: RatedProduct, money: Money): number {
  return seedPrice_perThousand(product) / (netPrice_perBu(money) * money.emergence);
}
