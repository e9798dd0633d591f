import type { FieldGrid, Surface } from '../grid/field-grid.ts';
import { type BinnedPoints, binPoints } from './bin-points.ts';

export interface BlockMedians {
  readonly values: Surface;
  /** Points behind each cell. */
  readonly support: Uint32Array;
}

/**
 * Median of the points in each cell (of the middle two, their mean), NaN where there is none: no harm is done while fewer than half the points
 * of a cell are wrong. `x`, `y` in the field frame, m; points with a NaN value are passed over. `bins` where they
 * are sorted into the grid already.
 */
export function blockMedians(
  grid: FieldGrid,
  x: Float64Array,
  y: Float64Array,
  value: Float64Array,
  bins: BinnedPoints = binPoints(grid, x, y, value),
): BlockMedians {
  const { start, order } = bins;
  const sorted = Float64Array.from(order, (point) => value[point]);
  const count = grid.area.length;
  const values = new Float64Array(count).fill(NaN);
  const support = new Uint32Array(count);
  for (let cell = 0; cell < count; cell++) {
    const square = grid.row[cell] * grid.cols + grid.col[cell];
    const from = start[square];
    const to = start[square + 1];
    if (from === to) continue;
    sorted.subarray(from, to).sort();
    const middle = (from + to) >> 1;
    values[cell] = (to - from) % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    support[cell] = to - from;
  }
  return { values, support };
}
