import type { FieldGrid, Surface } from '../../engine/grid/field-grid.ts';
import type { Issue } from '../../engine/issue.ts';
import { binPoints } from '../../engine/layers/bin-points.ts';
import { blockMeans } from '../../engine/layers/block-mean.ts';
import { blockMedians } from '../../engine/layers/block-median.ts';
import { fitVariogram, type VariogramFit } from '../../engine/layers/fit-variogram.ts';
import { inverseDistance } from '../../engine/layers/inverse-distance.ts';
import { krigeOnGrid } from '../../engine/layers/kriging.ts';
import { empiricalVariogram } from '../../engine/layers/variogram.ts';
import type { Plan } from '../../plan/schema.ts';

export type SurfaceMethod = Plan['evidence']['yields'][number]['surface'];

export interface PointSurface {
  readonly values: Surface;
  /** Standard error, same unit; null where the method has none. */
  readonly error: Surface | null;
  readonly support: Uint32Array;
  readonly method: string;
  readonly variogram: VariogramFit | null;
  readonly issues: readonly Issue[];
}

/** Gaps between passes are filled from points this many cells away, and no further: beyond it nothing is known. */
const GAP_CELLS = 2;
/** Points behind a kriged or inverse-distance estimate: nearest first, more change little. Common practice, no source. */
const NEAREST = 24;
const NEAREST_BY_DISTANCE = 12;

/** Points with a value → a surface on the field grid, by the method asked for. `x`, `y` in the field frame; NaN values are passed over. */
export function pointsToSurface(
  grid: FieldGrid,
  x: Float64Array,
  y: Float64Array,
  value: Float64Array,
  method: SurfaceMethod,
  where: string,
): PointSurface {
  if (method === 'kriging') return kriged(grid, x, y, value, where);
  if (method === 'inverse-distance') return byDistance(grid, x, y, value);
  return byCell(grid, x, y, value, method);
}

function byCell(
  grid: FieldGrid,
  x: Float64Array,
  y: Float64Array,
  value: Float64Array,
  method: 'cell-means' | 'cell-medians',
): PointSurface {
  const bins = binPoints(grid, x, y, value);
  const blocks =
    method === 'cell-means'
      ? blockMeans(grid, x, y, value, bins)
      : { ...blockMedians(grid, x, y, value, bins), se: null };
  const { values: own, support, se } = blocks;
  const gaps = new Uint8Array(support.length);
  for (let cell = 0; cell < gaps.length; cell++) gaps[cell] = support[cell] === 0 ? 1 : 0;
  const options = { radius_m: GAP_CELLS * grid.cell_m, most: NEAREST_BY_DISTANCE, power: 2 };
  const values = inverseDistance(grid, x, y, value, options, gaps, bins);
  for (let cell = 0; cell < gaps.length; cell++) if (!gaps[cell]) values[cell] = own[cell];
  return {
    values,
    // A gap filled from beside it has no error of its own.
    error: se,
    support,
    method: `${method === 'cell-means' ? 'means' : 'medians'} of the points in each cell; gaps of up to ${GAP_CELLS} cells by inverse distance`,
    variogram: null,
    issues: [],
  };
}

function kriged(
  grid: FieldGrid,
  x: Float64Array,
  y: Float64Array,
  value: Float64Array,
  where: string,
): PointSurface {
  const variogram = fitVariogram(empiricalVariogram(x, y, value, { cutoff_m: cutoff_m(grid, value) }));
  const { best, reason } = variogram;
  if (best === null) {
    const issue: Issue = {
      code: 'variogram-not-fitted',
      severity: 'warning',
      where,
      found: reason ?? 'no variogram',
      expected: 'points enough to see how likeness falls off with distance',
      effect: 'The surface is made by inverse distance and has no standard error',
      remedy: 'Take more points, or choose inverse distance yourself',
    };
    return { ...byDistance(grid, x, y, value), variogram, issues: [issue] };
  }
  // Beyond the range points say nothing of each other. An exponential never ends: three ranges reach 95 % of its sill.
  const range_m = best.model.family === 'exponential' ? 3 * best.model.range_m : best.model.range_m;
  const known = !best.rangeAtLimit && best.model.psill > 0;
  const radius_m = known ? Math.min(range_m, extent_m(grid)) : extent_m(grid);
  const { values, se, support } = krigeOnGrid(grid, x, y, value, best.model, {
    radius_m,
    most: NEAREST,
    least: 3,
    block: true,
  });
  return {
    values,
    error: se,
    support,
    method: `ordinary kriging of cells from the ${NEAREST} nearest points within ${radius_m.toFixed(0)} m`,
    variogram,
    issues: [],
  };
}

function byDistance(grid: FieldGrid, x: Float64Array, y: Float64Array, value: Float64Array): PointSurface {
  const points = value.reduce((sum, own) => sum + (Number.isNaN(own) ? 0 : 1), 0);
  const area_m2 = grid.area.reduce((sum, own) => sum + own, 0);
  // Four times the usual distance between points.
  const radius_m = Math.max(GAP_CELLS * grid.cell_m, 4 * Math.sqrt(area_m2 / Math.max(1, points)));
  const options = { radius_m, most: NEAREST_BY_DISTANCE, power: 2 };
  return {
    values: inverseDistance(grid, x, y, value, options),
    error: null,
    support: blockMeans(grid, x, y, value).support,
    method: `inverse distance squared over the ${NEAREST_BY_DISTANCE} nearest points within ${radius_m.toFixed(0)} m`,
    variogram: null,
    issues: [],
  };
}

/** Pairs are looked at over so many times the usual distance between points: what lies farther plays no part among the nearest. */
const PAIRS_REACH = 60;

function cutoff_m(grid: FieldGrid, value: Float64Array): number {
  const points = value.reduce((sum, own) => sum + (Number.isNaN(own) ? 0 : 1), 0);
  const area_m2 = grid.area.reduce((sum, own) => sum + own, 0);
  return Math.min(extent_m(grid) / 3, PAIRS_REACH * Math.sqrt(area_m2 / Math.max(1, points)));
}

function extent_m(grid: FieldGrid): number {
  return grid.cell_m * Math.hypot(grid.cols, grid.rows);
}
