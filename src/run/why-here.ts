/** The trail of one spot: short sentences, each with where its figures came from, ending in the rate. */
export interface WhyHere {
  readonly cell: number;
  readonly lon: number;
  readonly lat: number;
  readonly sentences: readonly { readonly text: string; readonly source: string }[];
}
