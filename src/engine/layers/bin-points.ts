import type { FieldGrid } from '../grid/field-grid.ts';
import { turnTo } from '../grid/turn.ts';

/** A turned box of squares, the field's own or another. */
export type SquareBox = Pick<FieldGrid, 'cell_m' | 'heading_deg' | 'u0' | 'v0' | 'cols' | 'rows'>;

/** Points sorted by the grid square they lie in; squares outside the field but inside its box hold points too. */
export interface BinnedPoints {
  /** Points of square k are `order[start[k] … start[k+1])`. */
  readonly start: Int32Array;
  readonly order: Int32Array;
  /** Turned coordinates in cells from the box corner, by point. */
  readonly u: Float64Array;
  readonly v: Float64Array;
}

/** Counting sort of the points with a value (`value[i]` not NaN) into the squares of a box. Linear time. */
export function binPoints(
  grid: SquareBox,
  x: Float64Array,
  y: Float64Array,
  value: Float64Array,
): BinnedPoints {
  const { cols, rows, cell_m } = grid;
  const turn = turnTo(grid.heading_deg);
  const n = x.length;
  const u = new Float64Array(n);
  const v = new Float64Array(n);
  const square = new Int32Array(n);
  const start = new Int32Array(cols * rows + 1);
  for (let i = 0; i < n; i++) {
    u[i] = (x[i] * turn.cos - y[i] * turn.sin - grid.u0) / cell_m;
    v[i] = (x[i] * turn.sin + y[i] * turn.cos - grid.v0) / cell_m;
    const inBox = u[i] >= 0 && v[i] >= 0 && u[i] < cols && v[i] < rows && !Number.isNaN(value[i]);
    square[i] = inBox ? Math.floor(v[i]) * cols + Math.floor(u[i]) : -1;
    if (inBox) start[square[i] + 1]++;
  }
  for (let k = 0; k < cols * rows; k++) start[k + 1] += start[k];
  const next = start.slice(0, -1);
  const order = new Int32Array(start[cols * rows]);
  for (let i = 0; i < n; i++) if (square[i] >= 0) order[next[square[i]]++] = i;
  return { start, order, u, v };
}
