/**
 * Square cells along the planting heading, only those that touch the field, row by row from the south-west
 * corner of the turned box. `v` runs along the heading, `u` to its right:
 * `u = x·cos h − y·sin h`, `v = x·sin h + y·cos h` (h clockwise from north; x east, y north in the field frame).
 */
export interface FieldGrid {
  readonly cell_m: number;
  readonly heading_deg: number;
  /** Corner of column 0, row 0 in turned metres. */
  readonly u0: number;
  readonly v0: number;
  readonly cols: number;
  readonly rows: number;
  readonly col: Int32Array;
  readonly row: Int32Array;
  /** Area of each cell inside the field, m². Σ area = field area to 1e-9. */
  readonly area: Float64Array;
  /** Centres of the whole cells in the field frame, m. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** `at[row·cols + col]` is the cell there, −1 where the field is not. */
  readonly at: Int32Array;
}

/** A value a cell; NaN is not known, and not known is never zero. */
export type Surface = Float64Array;
