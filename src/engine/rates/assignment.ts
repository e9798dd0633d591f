/** What one product would earn in one zone at its best allowed rate. */
export interface ZoneOption {
  /** Index into the lineup used. */
  readonly product: number;
  readonly seedsPerAc: number;
  readonly plantsPerAc: number;
  readonly yield_buPerAc: number;
  readonly seedCostPerAc: number;
  /** Grain income less seed, $/ac. */
  readonly marginPerAc: number;
  /** The unrounded stand of highest margin on the curve, plants/ac: 0 where nothing planted would earn more, null where the curve tells none (a straight line, or every plant pays). */
  readonly economicOptimum_plantsPerAc: number | null;
  /**
   * What set the choice other than margin: `product-by-hand`, `rate-by-hand`, or the limit that moved the rate off the optimum: `tested`, `lowest`,
   * `highest`, `meter`. Rounding is not a limit.
   */
  readonly bound: readonly string[];
  /** What a limit of the plan or the planter costs here, $/ac: margin lost against the best rate of the stands tested. 0 where none binds; what stands beyond those tested would bring nobody knows. */
  readonly boundCostsPerAc: number;
}

/** The choice for a zone, with every product's option behind it, best margin first. */
export interface ZoneChoice {
  readonly zone: number;
  readonly chosen: ZoneOption;
  readonly options: readonly ZoneOption[];
}
