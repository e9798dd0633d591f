/** What holds the choice of products back beside the hoppers. Products by their index in the lineup used. */
export interface ProductLimits {
  /** A product that is planted at all is planted to so many acres or more. */
  readonly leastAcres: number;
  /** No product is planted to more; Infinity for no such limit. */
  readonly mostAcres: number;
  /** Products to be planted whatever they earn. */
  readonly mustUse: readonly number[];
  /** Seeds there are of a product, where no more is to be had. */
  readonly seedsOnHand: ReadonlyMap<number, number>;
  /** Rates set by hand, seeds/ac, by zone from 0: what is on hand is counted by them there. */
  readonly handRates?: ReadonlyMap<number, number>;
}

export const NO_PRODUCT_LIMITS: ProductLimits = {
  leastAcres: 0,
  mostAcres: Infinity,
  mustUse: [],
  seedsOnHand: new Map(),
};

export function areProductLimits({ leastAcres, mostAcres, mustUse, seedsOnHand }: ProductLimits): boolean {
  return leastAcres > 0 || mostAcres < Infinity || mustUse.length > 0 || seedsOnHand.size > 0;
}
