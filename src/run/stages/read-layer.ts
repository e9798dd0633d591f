import { crsToLonLat } from '../../engine/geodesy/crs.ts';
import { toFrame } from '../../engine/geodesy/field-frame.ts';
import { pointsInside } from '../../engine/geometry/point-in-region.ts';
import { type Issue, Refusal } from '../../engine/issue.ts';
import { areaShareMeans } from '../../engine/layers/area-share.ts';
import { numberColumn } from '../../engine/layers/number-column.ts';
import { rasterMeans } from '../../engine/layers/raster-means.ts';
import type { Source } from '../../engine/layers/source.ts';
import type { Plan } from '../../plan/schema.ts';
import type { FieldResult, OtherLayer } from '../results.ts';
import { cutPolygons } from './cut-polygons.ts';
import { sourceCrs } from './place-source.ts';
import { type PointSurface, pointsToSurface } from './points-to-surface.ts';
import { summarise } from './summarise.ts';

export interface ReadLayer extends OtherLayer {
  readonly source: string;
  readonly issues: readonly Issue[];
  /** By record of the source: 0 used, else 1 + index into `REASONS`. */
  readonly state: Uint8Array;
}

/** Why a record of a layer is set aside. */
export const REASONS = ['outside-field', 'no-value', 'shape-not-usable'] as const;
const stateOf = (reason: (typeof REASONS)[number]) => 1 + REASONS.indexOf(reason);

type LayerPlan = Plan['evidence']['layers'][number];
type Drawn = Pick<PointSurface, 'values' | 'error' | 'method' | 'variogram'> & Pick<ReadLayer, 'state'>;

/** A layer to be looked at: points by the method asked for, a raster by overlapped area, polygons by exact area share. */
export function readLayer(source: Source, field: FieldResult, plan: LayerPlan): ReadLayer {
  const issues: Issue[] = [];
  const { state, ...drawn } = draw(source, field, plan, issues);
  const summary = summarise(drawn.values, field.grid.area);
  if (summary.known === 0) {
    throw new Refusal({
      code: 'layer-outside-field',
      where: source.file,
      found: `nothing of ${plan.column} within the field`,
      expected: 'a layer that covers some of the field',
      effect: 'The layer is left out',
      remedy: 'Check the coordinate systems of both files',
    });
  }
  return {
    kind: 'other',
    id: `${plan.source} · ${plan.column}`,
    source: plan.source,
    label: plan.label,
    unit: plan.unit,
    ...drawn,
    summary,
    issues,
    state,
  };
}

function draw(source: Source, field: FieldResult, plan: LayerPlan, issues: Issue[]): Drawn {
  const values = numberColumn(source, plan.column, 'The layer is left out');
  const { grid, frame } = field;
  // A point or pixel without a value is without one wherever it lies.
  const state = new Uint8Array(source.records);
  const leave = (record: number, reason: (typeof REASONS)[number]) => {
    state[record] = Number.isNaN(values[record]) ? stateOf('no-value') : stateOf(reason);
  };
  const crs = source.shape === 'table' ? null : sourceCrs(source, issues);
  if (crs && source.shape === 'points') {
    const { lon, lat } = crsToLonLat(crs, source.x, source.y);
    const { x, y } = toFrame(frame, lon, lat);
    // As with yield points, what lies beyond the fence is of other ground.
    const inside = pointsInside(field.region, x, y);
    const own = values.map((value, i) => (inside[i] ? value : Number.NaN));
    for (let i = 0; i < own.length; i++) if (Number.isNaN(own[i])) leave(i, 'outside-field');
    const drawn = pointsToSurface(grid, x, y, own, plan.surface, source.file);
    issues.push(...drawn.issues);
    return { ...drawn, state };
  }
  if (crs && source.shape === 'raster' && source.raster) {
    const means = rasterMeans(grid, frame, source.raster, crs, values);
    for (let i = 0; i < state.length; i++) if (!means.used[i]) leave(i, 'outside-field');
    return {
      values: means.values,
      error: null,
      variogram: null,
      method: 'means of the pixels by overlapped area',
      state,
    };
  }
  if (crs && source.shape === 'polygons') {
    const cut = cutPolygons(source, crs, field);
    issues.push(...cut.issues);
    for (const [record, reason] of cut.aside) state[record] = stateOf(reason);
    const pieces = cut.pieces.map(({ record, region }) => ({ region, value: values[record] }));
    for (const { record } of cut.pieces)
      if (Number.isNaN(values[record])) state[record] = stateOf('no-value');
    return {
      values: areaShareMeans(grid, pieces),
      error: null,
      variogram: null,
      method: 'polygons by area share',
      state,
    };
  }
  throw new Refusal({
    code: 'layer-no-place',
    where: source.file,
    found: 'a table without places',
    expected: 'points, polygons or a raster',
    effect: 'The layer is left out',
    remedy: 'Choose a file with coordinates',
  });
}
