import type { FieldGrid, Surface } from '../grid/field-grid.ts';
import { binPoints } from './bin-points.ts';
import { krigingSystem } from './kriging-system.ts';
import { mergePlaces } from './merge-places.ts';
import { nearestPoints } from './nearest-points.ts';
import { searchBox } from './search-box.ts';
import type { VariogramModel } from './variogram-model.ts';

export interface KrigingOptions {
  /** Only points this near to the place, or to the middle of the block, m. */
  readonly radius_m: number;
  /** At most so many, the nearest; the work goes with the cube of it. */
  readonly most: number;
  /** Not known where fewer are that near. */
  readonly least: number;
  /** Side of the squares whose means are estimated, m; 0 for points. */
  readonly block_m: number;
}

export interface Kriged {
  readonly values: Surface;
  /** Kriging standard deviation, in the unit of the values. */
  readonly se: Surface;
  /** Places behind each estimate, those too few included. */
  readonly support: Uint32Array;
}

/** Told the share done, every so many places; what it throws ends the work. */
export type OnShare = (share: number) => void;

/** Places between two tellings: some 20 ms of work. */
const TELL_EVERY = 2048;

/**
 * Ordinary kriging of the cells of a grid from the nearest points: of their middles, or with `block` of the means over the whole cells. `x`, `y` in the field
 * frame, m; points with a NaN value are passed over, points of one place are taken as one with their mean. The model's sill must be above zero.
 */
export function krigeOnGrid(
  grid: FieldGrid,
  x: Float64Array,
  y: Float64Array,
  value: Float64Array,
  model: VariogramModel,
  options: Omit<KrigingOptions, 'block_m'> & { readonly block: boolean },
  onShare?: OnShare,
): Kriged {
  const u = Float64Array.from(grid.col, (col) => grid.u0 + (col + 0.5) * grid.cell_m);
  const v = Float64Array.from(grid.row, (row) => grid.v0 + (row + 0.5) * grid.cell_m);
  const block_m = options.block ? grid.cell_m : 0;
  return krige(grid.heading_deg, u, v, x, y, value, model, { ...options, block_m }, onShare);
}

/** The same at places of one's own, x and y like those of the points; blocks lie with their sides along the axes. */
export function krigeAt(
  placeX: Float64Array,
  placeY: Float64Array,
  x: Float64Array,
  y: Float64Array,
  value: Float64Array,
  model: VariogramModel,
  options: KrigingOptions,
  onShare?: OnShare,
): Kriged {
  return krige(0, placeX, placeY, x, y, value, model, options, onShare);
}

/** `u`, `v`: the places to estimate at, in axes turned by the heading, m. */
function krige(
  heading_deg: number,
  u: Float64Array,
  v: Float64Array,
  x: Float64Array,
  y: Float64Array,
  value: Float64Array,
  model: VariogramModel,
  options: KrigingOptions,
  onShare?: OnShare,
): Kriged {
  const values = new Float64Array(u.length).fill(NaN);
  const se = new Float64Array(u.length).fill(NaN);
  const support = new Uint32Array(u.length);
  const [uFrom, uTo] = spanOf(u);
  const [vFrom, vTo] = spanOf(v);
  const { radius_m } = options;
  const reach = {
    uFrom: uFrom - radius_m,
    uTo: uTo + radius_m,
    vFrom: vFrom - radius_m,
    vTo: vTo + radius_m,
  };
  const box = searchBox(heading_deg, reach, x, y, value);
  if (!box) return { values, se, support };
  const places = mergePlaces(binPoints(box, x, y, value), value);
  const most = Math.min(options.most, places.value.length);
  const least = Math.max(1, options.least);
  const { cell_m } = box;
  const { find, point } = nearestPoints(box, places, options.radius_m / cell_m, most);
  const system = krigingSystem(places, model, model.range_m / cell_m, options.block_m / cell_m, most);
  for (let k = 0; k < u.length; k++) {
    if (k % TELL_EVERY === 0) onShare?.(k / u.length);
    const ownU = (u[k] - box.u0) / cell_m;
    const ownV = (v[k] - box.v0) / cell_m;
    const count = find(ownU, ownV);
    support[k] = count;
    if (count < least) continue;
    system.load(point.subarray(0, count).sort(), count);
    system.solve(ownU, ownV);
    values[k] = system.answer.estimate;
    se[k] = Math.sqrt(system.answer.variance);
  }
  onShare?.(1);
  return { values, se, support };
}

function spanOf(values: Float64Array): [number, number] {
  let [from, to] = [Infinity, -Infinity];
  for (const value of values) {
    if (value < from) from = value;
    if (value > to) to = value;
  }
  return [from, to];
}
