import { turnTo } from '../grid/turn.ts';
import type { SquareBox } from './bin-points.ts';

/** Points a square of the search holds on average where they lie evenly. */
const POINTS_A_SQUARE = 3;

/** A rectangle in turned axes, m. */
export interface TurnedSpan {
  readonly uFrom: number;
  readonly uTo: number;
  readonly vFrom: number;
  readonly vTo: number;
}

/**
 * A box of squares to search, about all points with a value within a span: sized by how many points there are and not by the cells of a field, since few points
 * in small squares are looked for in emptiness. `x`, `y` in the field frame, m; null where there is no such point.
 */
export function searchBox(
  heading_deg: number,
  { uFrom, uTo, vFrom, vTo }: TurnedSpan,
  x: Float64Array,
  y: Float64Array,
  value: Float64Array,
): SquareBox | null {
  const turn = turnTo(heading_deg);
  let [uMin, vMin, uMax, vMax] = [Infinity, Infinity, -Infinity, -Infinity];
  let points = 0;
  for (let i = 0; i < x.length; i++) {
    if (Number.isNaN(value[i])) continue;
    const pu = x[i] * turn.cos - y[i] * turn.sin;
    const pv = x[i] * turn.sin + y[i] * turn.cos;
    if (!(pu >= uFrom && pu <= uTo)) continue;
    if (!(pv >= vFrom && pv <= vTo)) continue;
    points++;
    uMin = Math.min(uMin, pu);
    uMax = Math.max(uMax, pu);
    vMin = Math.min(vMin, pv);
    vMax = Math.max(vMax, pv);
  }
  if (points === 0) return null;
  const squares = Math.max(1, points / POINTS_A_SQUARE);
  const long = Math.max(uMax - uMin, vMax - vMin);
  // Points in a line have a box without area: then the squares go along it.
  const cell_m = Math.max(Math.sqrt(((uMax - uMin) * (vMax - vMin)) / squares), long / squares) || 1;
  const cols = Math.floor((uMax - uMin) / cell_m) + 1;
  const rows = Math.floor((vMax - vMin) / cell_m) + 1;
  return { cell_m, heading_deg, u0: uMin, v0: vMin, cols, rows };
}
