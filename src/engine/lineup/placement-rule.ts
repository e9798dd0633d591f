/** What a rule asks of a piece of ground; every figure includes its ends, and names are met whatever their case. */
export type PlacementCondition =
  /** Yield environment, bu/ac. */
  | { readonly on: 'environment'; readonly from: number | null; readonly to: number | null }
  /**
   * A figure of the ground by its name: a layer of the evidence, or a column of numbers of the soil map; mean over the ground. `unit` is the one from and to are in;
   * '' goes by whatever the layer has.
   */
  | {
      readonly on: 'layer';
      readonly layer: string;
      readonly unit: string;
      readonly from: number | null;
      readonly to: number | null;
    }
  /** Soil map units by name. */
  | { readonly on: 'soil'; readonly anyOf: readonly string[] }
  /** What the soil map says in words under the name of a column, as a drainage class. */
  | { readonly on: 'soil attribute'; readonly attribute: string; readonly anyOf: readonly string[] }
  /** Zones of the plan by name. */
  | { readonly on: 'zone'; readonly anyOf: readonly string[] };

/** One sentence of an agronomist about a product and ground, as data. */
export interface PlacementRule {
  /** `never`: must not go there. `care`: should not, but may. `best`: belongs there. */
  readonly verdict: 'never' | 'care' | 'best';
  /** All of these must hold; none: everywhere. */
  readonly where: readonly PlacementCondition[];
  /** Ends the sentence `not here because …`. */
  readonly reason: string;
  /** Who says so; '' where nobody signed. */
  readonly by: string;
}
