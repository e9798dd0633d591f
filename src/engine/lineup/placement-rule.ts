/** What a rule asks of a piece of ground; every figure includes its ends. */
export type PlacementCondition =
  /** Yield environment, bu/ac. */
  | { readonly on: 'environment'; readonly from: number | null; readonly to: number | null }
  /** A layer of the evidence by its name: mean over the ground, in the layer's unit. */
  | { readonly on: 'layer'; readonly layer: string; readonly from: number | null; readonly to: number | null }
  /** Soil map units by name. */
  | { readonly on: 'soil'; readonly anyOf: readonly string[] }
  /** Zones of the plan by name. */
  | { readonly on: 'zone'; readonly anyOf: readonly string[] };

/** One sentence of an agronomist about a product and ground, as data. */
export interface PlacementRule {
  /** `never`: must not go there. `care`: should not, but may. `best`: belongs there. */
  readonly verdict: 'never' | 'care' | 'best';
  /** All of these must hold; none: everywhere. */
  readonly where: readonly PlacementCondition[];
  readonly reason: string;
  /** Who says so; '' where nobody signed. */
  readonly by: string;
}
