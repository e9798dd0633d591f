/** Plots of one product in the trials, plot by plot. */
export interface Plots {
  /** Plants standing, 1000/ac; NaN where not known. */
  readonly stand_k: Float64Array;
  /** Dry yield, bu/ac. */
  readonly yield_buPerAc: Float64Array;
  /** Place in a year: index of the site. Plots of one site share what the product does there beyond its curve. */
  readonly site: Uint32Array;
  /** Yield environment of the plot's site, bu/ac. */
  readonly environment_buPerAc: Float64Array;
}
