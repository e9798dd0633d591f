/**
 * A ring of vertices, flat `x0, y0, x1, y1, …`, not repeating the first vertex at the end.
 * Units and axes are the holder's: degrees lon/lat or metres in a source, metres in the field frame.
 */
export type Ring = Float64Array;

/** One outer ring (counter-clockwise) and its holes (clockwise), in metres of the field frame. */
export interface Polygon {
  readonly outer: Ring;
  readonly holes: readonly Ring[];
}

/** A set of polygons whose interiors do not overlap: a field, a soil map unit, a zone. Metres of the field frame. */
export type Region = readonly Polygon[];
