/** A trial site in one year. */
export interface TrialSite {
  readonly name: string;
  /** Null where not told. */
  readonly year: number | null;
  /** Yield environment as told, bu/ac; NaN where it must be worked out from the yields. */
  readonly environment_buPerAc: number;
}

/** Plots of trials, plot by plot: all products, all sites. */
export interface TrialTable {
  readonly products: readonly { readonly name: string; readonly crop: string }[];
  readonly sites: readonly TrialSite[];
  /** Index into `products` and into `sites`. */
  readonly product: Uint32Array;
  readonly site: Uint32Array;
  /** Plants standing per acre; NaN where the trial does not tell (a variety trial at one stand). */
  readonly stand_plantsPerAc: Float64Array;
  /** Dry yield, bu/ac; never NaN: rows without a yield are set aside in reading. */
  readonly yield_buPerAc: Float64Array;
  /** Block or repetition within the site, from 0; 0 where none is told. */
  readonly block: Uint32Array;
}
