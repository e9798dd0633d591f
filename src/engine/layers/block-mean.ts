import type { FieldGrid, Surface } from '../grid/field-grid.ts';
import { binPoints } from './bin-points.ts';

export interface BlockMeans {
  readonly values: Surface;
  /** Points behind each cell. */
  readonly support: Uint32Array;
}

/**
 * Mean of the points in each cell, NaN where there is none. `x`, `y` in the field frame, m; points with a NaN value are
 * passed over.
 */
export function blockMeans(
  grid: FieldGrid,
  x: Float64Array,
  y: Float64Array,
  value: Float64Array,
): BlockMeans {
  const bins = binPoints(grid, x, y, value);
  const count = grid.area.length;
  const values = new Float64Array(count).fill(NaN);
  const support = new Uint32Array(count);
  for (let cell = 0; cell < count; cell++) {
    const square = grid.row[cell] * grid.cols + grid.col[cell];
    const from = bins.start[square];
    const to = bins.start[square + 1];
    if (from === to) continue;
    let sum = 0;
    for (let k = from; k < to; k++) sum += value[bins.order[k]];
    values[cell] = sum / (to - from);
    support[cell] = to - from;
  }
  return { values, support };
}
