import type { FieldGrid, Surface } from '../grid/field-grid.ts';
import { binPoints } from './bin-points.ts';

export interface InverseDistanceOptions {
  /** Only points this near to a cell's centre, m. */
  readonly radius_m: number;
  /** At most so many, the nearest. */
  readonly most: number;
  /** Weights are distance to the minus this. */
  readonly power: number;
}

/**
 * Inverse-distance means at cell centres (Shepard 1968) over the nearest points within a radius; NaN where no point is that near, and the
 * mean of the points on a centre where some lie on it. `x`, `y` in the field frame, m; points with a NaN value are passed over,
 * and so are points outside the box of the grid. Cells for which `wanted` is 0 are left NaN.
 */
export function inverseDistance(
  grid: FieldGrid,
  x: Float64Array,
  y: Float64Array,
  value: Float64Array,
  options: InverseDistanceOptions,
  wanted?: Uint8Array,
): Surface {
  const { cols, rows, cell_m } = grid;
  const bins = binPoints(grid, x, y, value);
  const reach = options.radius_m / cell_m;
  const reach2 = reach * reach;
  const rings = Math.floor(reach + 0.5);
  const { most, power } = options;
  const values = new Float64Array(grid.area.length).fill(NaN);
  const nearDistance = new Float64Array(most);
  const nearPoint = new Int32Array(most);
  for (let cell = 0; cell < values.length; cell++) {
    if (wanted && wanted[cell] === 0) continue;
    const ownCol = grid.col[cell];
    const ownRow = grid.row[cell];
    const u = ownCol + 0.5;
    const v = ownRow + 0.5;
    let count = 0;
    let limit = reach2;
    // Squares in rings round the cell: once enough points are known, a ring that begins beyond the farthest of them ends the search.
    for (let ring = 0; ring <= rings; ring++) {
      if (count === most && limit <= (ring - 0.5) * (ring - 0.5)) break;
      const rowTo = Math.min(rows - 1, ownRow + ring);
      for (let row = Math.max(0, ownRow - ring); row <= rowTo; row++) {
        const step = Math.abs(row - ownRow) === ring ? 1 : 2 * ring;
        for (let col = ownCol - ring; col <= ownCol + ring; col += step) {
          if (col < 0 || col >= cols) continue;
          const to = bins.start[row * cols + col + 1];
          for (let k = bins.start[row * cols + col]; k < to; k++) {
            const i = bins.order[k];
            const du = bins.u[i] - u;
            const dv = bins.v[i] - v;
            const d2 = du * du + dv * dv;
            if (d2 > limit || (count === most && d2 === limit)) continue;
            // Insertion into the short sorted list of the nearest so far.
            let place = count < most ? count++ : most - 1;
            while (place > 0 && nearDistance[place - 1] > d2) {
              nearDistance[place] = nearDistance[place - 1];
              nearPoint[place] = nearPoint[place - 1];
              place--;
            }
            nearDistance[place] = d2;
            nearPoint[place] = i;
            if (count === most) limit = nearDistance[most - 1];
          }
        }
      }
    }
    if (count > 0) values[cell] = weigh(count);
  }
  return values;

  function weigh(count: number): number {
    const onCentre = nearDistance[0] === 0;
    let sum = 0;
    let weights = 0;
    for (let k = 0; k < count; k++) {
      if (onCentre && nearDistance[k] > 0) break;
      const d2 = nearDistance[k];
      const weight = onCentre ? 1 : power === 2 ? 1 / d2 : d2 ** (-power / 2);
      weights += weight;
      sum += weight * value[nearPoint[k]];
    }
    return sum / weights;
  }
}
