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
 * mean of the points on a centre where some lie on it. `x`, `y` in the field frame, m; points with a NaN value are passed over.
 * Cells for which `wanted` is 0 are left NaN.
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
  const { most } = options;
  const values = new Float64Array(grid.area.length).fill(NaN);
  const nearDistance = new Float64Array(most);
  const nearPoint = new Int32Array(most);
  for (let cell = 0; cell < values.length; cell++) {
    if (wanted && wanted[cell] === 0) continue;
    const u = grid.col[cell] + 0.5;
    const v = grid.row[cell] + 0.5;
    let count = 0;
    let limit = reach2;
    const rowFrom = Math.max(0, Math.floor(v - reach));
    const rowTo = Math.min(rows - 1, Math.floor(v + reach));
    const colFrom = Math.max(0, Math.floor(u - reach));
    const colTo = Math.min(cols - 1, Math.floor(u + reach));
    for (let row = rowFrom; row <= rowTo; row++) {
      const from = bins.start[row * cols + colFrom];
      const to = bins.start[row * cols + colTo + 1];
      for (let k = from; k < to; k++) {
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
    if (count > 0) values[cell] = weigh(count);
  }
  return values;

  function weigh(count: number): number {
    const onCentre = nearDistance[0] === 0;
    let sum = 0;
    let weights = 0;
    for (let k = 0; k < count; k++) {
      if (onCentre && nearDistance[k] > 0) break;
      const weight = onCentre ? 1 : nearDistance[k] ** (-options.power / 2);
      weights += weight;
      sum += weight * value[nearPoint[k]];
    }
    return sum / weights;
  }
}
