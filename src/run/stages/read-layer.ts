import { crsToLonLat } from '../../engine/geodesy/crs.ts';
import { ringToFrame, toFrame } from '../../engine/geodesy/field-frame.ts';
import { intersection } from '../../engine/geometry/overlay.ts';
import { regionFromRings } from '../../engine/geometry/region-from-rings.ts';
import { type Issue, Refusal } from '../../engine/issue.ts';
import { areaShareMeans } from '../../engine/layers/area-share.ts';
import { numberColumn } from '../../engine/layers/number-column.ts';
import { rasterMeans } from '../../engine/layers/raster-means.ts';
import type { Source } from '../../engine/layers/source.ts';
import type { Plan } from '../../plan/schema.ts';
import type { FieldResult, OtherLayer } from '../results.ts';
import { ringToLonLatOf, sourceCrs } from './place-source.ts';
import { type PointSurface, pointsToSurface } from './points-to-surface.ts';
import { summarise } from './summarise.ts';

export interface ReadLayer extends OtherLayer {
  readonly source: string;
  readonly issues: readonly Issue[];
}

type LayerPlan = Plan['evidence']['layers'][number];
type Drawn = Pick<PointSurface, 'values' | 'error' | 'method' | 'variogram'>;

/** A layer to be looked at: points by the method asked for, a raster by overlapped area, polygons by exact area share. */
export function readLayer(source: Source, field: FieldResult, plan: LayerPlan): ReadLayer {
  const issues: Issue[] = [];
  const drawn = draw(source, field, plan, issues);
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
  };
}

function draw(source: Source, field: FieldResult, plan: LayerPlan, issues: Issue[]): Drawn {
  const values = numberColumn(source, plan.column, 'The layer is left out');
  const { grid, frame } = field;
  const crs = source.shape === 'table' ? null : sourceCrs(source, issues);
  if (crs && source.shape === 'points') {
    const { lon, lat } = crsToLonLat(crs, source.x, source.y);
    const { x, y } = toFrame(frame, lon, lat);
    const drawn = pointsToSurface(grid, x, y, values, plan.surface, source.file);
    issues.push(...drawn.issues);
    return drawn;
  }
  if (crs && source.shape === 'raster' && source.raster) {
    const means = rasterMeans(grid, frame, source.raster, crs, values);
    return {
      values: means.values,
      error: null,
      variogram: null,
      method: 'means of the pixels by overlapped area',
    };
  }
  if (crs && source.shape === 'polygons') {
    const pieces = source.rings.flatMap((rings, record) => {
      if (!rings || rings.length === 0) return [];
      const inFrame = rings.map((ring) => ringToFrame(frame, ringToLonLatOf(crs, ring)));
      const { region } = regionFromRings(inFrame, `${source.file} › record ${record + 1}`, {
        crossing: 'split',
      });
      return [{ region: intersection(region, field.region), value: values[record] }];
    });
    return {
      values: areaShareMeans(grid, pieces),
      error: null,
      variogram: null,
      method: 'polygons by area share',
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
