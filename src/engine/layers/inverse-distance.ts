import type { FieldGrid, Surface } from '../grid/field-grid.ts';
import { type BinnedPoints, binPoints } from './bin-points.ts';
import { nearestPoints } from './nearest-points.ts';
import { searchBox } from './search-box.ts';

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
 * and so are points outside the box of the grid. Cells for which `wanted` is 0 are left NaN. `bins` where the points are sorted into
 * the grid already; they serve where points are many and the radius is few cells.
 */
export function inverseDistance(
  grid: FieldGrid,
  x: Float64Array,
  y: Float64Array,
  value: Float64Array,
  options: InverseDistanceOptions,
  wanted?: Uint8Array,
  bins?: BinnedPoints,
): Surface {
  const { most, power } = options;
  const values = new Float64Array(grid.area.length).fill(NaN);
  const { cell_m, u0, v0, cols, rows } = grid;
  const within = { uFrom: u0, uTo: u0 + cols * cell_m, vFrom: v0, vTo: v0 + rows * cell_m };
  const box = bins ? grid : searchBox(grid.heading_deg, within, x, y, value);
  if (!box) return values;
  const sorted = bins ?? binPoints(box, x, y, value);
  const { find, point, distance2 } = nearestPoints(box, sorted, options.radius_m / box.cell_m, most);
  // A cell of the grid in squares of the box.
  const scale = cell_m / box.cell_m;
  const [fromU, fromV] = [(u0 - box.u0) / box.cell_m, (v0 - box.v0) / box.cell_m];
  for (let cell = 0; cell < values.length; cell++) {
    if (wanted && wanted[cell] === 0) continue;
    const count = find(fromU + (grid.col[cell] + 0.5) * scale, fromV + (grid.row[cell] + 0.5) * scale);
    if (count > 0) values[cell] = weigh(count);
  }
  return values;

  function weigh(count: number): number {
    const onCentre = distance2[0] === 0;
    let sum = 0;
    let weights = 0;
    for (let k = 0; k < count; k++) {
      if (onCentre && distance2[k] > 0) break;
      const d2 = distance2[k];
      const weight = onCentre ? 1 : power === 2 ? 1 / d2 : d2 ** (-power / 2);
      weights += weight;
      sum += weight * value[point[k]];
    }
    return sum / weights;
  }
}
