/** A coordinate system we have verified. `proj4` is null when coordinates already are WGS 84 lon/lat degrees. */
export interface Crs {
  /** `EPSG:32612`, or `custom` for one known only by its parameters. */
  readonly code: string;
  readonly name: string;
  readonly proj4: string | null;
}
