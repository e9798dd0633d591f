/** The best single product at its best single rate over the whole field. */
export interface FlatPlan {
  readonly product: number;
  readonly seedsPerAc: number;
  readonly marginPerAc: number;
}

/** What the plan earns over the best flat plan. */
export interface Worth {
  readonly flat: FlatPlan;
  readonly marginPerAc: number;
  readonly perAc: number;
  readonly perField: number;
}
