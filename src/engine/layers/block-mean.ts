import type { FieldGrid, Surface } from '../grid/field-grid.ts';
import { type BinnedPoints, binPoints } from './bin-points.ts';

export interface BlockMeans {
  readonly values: Surface;
  /** Standard error of each mean, as if the points of a cell were drawn independently; NaN where nothing tells how they scatter. */
  readonly se: Surface;
  /** Points behind each cell. */
  readonly support: Uint32Array;
}

/** Our own bound: the standard deviation of fewer points is good to no better than a quarter, and the cells together tell more. */
const ENOUGH = 10;

/**
 * Mean of the points in each cell, NaN where there is none, and its standard error s/√n: s the standard deviation of the cell's own points
 * (n − 1) where there are ten or more, else that within all cells pooled, s² = ΣΣ(value − mean)²/Σ(n − 1). `x`, `y` in the field frame, m; points with
 * a NaN value are passed over. `bins` where they are sorted into the grid already.
 */
export function blockMeans(
  grid: FieldGrid,
  x: Float64Array,
  y: Float64Array,
  value: Float64Array,
  bins: BinnedPoints = binPoints(grid, x, y, value),
): BlockMeans {
  const count = grid.area.length;
  const values = new Float64Array(count).fill(NaN);
  const squares = new Float64Array(count);
  const support = new Uint32Array(count);
  let pooledSquares = 0;
  let pooledFree = 0;
  for (let cell = 0; cell < count; cell++) {
    const square = grid.row[cell] * grid.cols + grid.col[cell];
    const from = bins.start[square];
    const to = bins.start[square + 1];
    if (from === to) continue;
    support[cell] = to - from;
    values[cell] = meanOf(bins, value, from, to);
    squares[cell] = squaresAbout(values[cell], bins, value, from, to);
    pooledSquares += squares[cell];
    pooledFree += to - from - 1;
  }
  const pooled = pooledFree > 0 ? pooledSquares / pooledFree : NaN;
  const se = squares.map((sum, cell) => {
    const n = support[cell];
    return n === 0 ? NaN : Math.sqrt((n < ENOUGH ? pooled : sum / (n - 1)) / n);
  });
  return { values, se, support };
}

function meanOf({ order }: BinnedPoints, value: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let k = from; k < to; k++) sum += value[order[k]];
  return sum / (to - from);
}

function squaresAbout(
  mean: number,
  { order }: BinnedPoints,
  value: Float64Array,
  from: number,
  to: number,
): number {
  let sum = 0;
  for (let k = from; k < to; k++) sum += (value[order[k]] - mean) ** 2;
  return sum;
}
