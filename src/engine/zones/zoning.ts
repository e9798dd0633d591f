/** Zones over the cells: `label[cell]` is an index into `zones`. Every cell has a zone. */
export interface Zoning {
  readonly label: Uint8Array;
  readonly zones: readonly Zone[];
}

export interface Zone {
  /** From 1, as people count; 1 is the poorest ground. */
  readonly id: number;
  readonly name: string;
  readonly area_m2: number;
  /** Area-weighted mean of the yield environment, bu/ac, and its spread between cells (one standard deviation). */
  readonly environment_buPerAc: number;
  readonly environmentSd_buPerAc: number;
  /** False for ground no layer covers: it is given the field's expected yield. */
  readonly known: boolean;
}
