import { ringToFrame } from '../../engine/geodesy/field-frame.ts';
import { frameAround } from '../../engine/geodesy/frame-around.ts';
import { regionArea } from '../../engine/geometry/area.ts';
import { extentOf } from '../../engine/geometry/extent.ts';
import { regionFromRecords } from '../../engine/geometry/region-from-rings.ts';
import type { Ring } from '../../engine/geometry/ring.ts';
import { longestSideHeading } from '../../engine/grid/heading.ts';
import { commonCell_m, layOutGrid } from '../../engine/grid/lay-out-grid.ts';
import { type Issue, Refusal } from '../../engine/issue.ts';
import type { Source } from '../../engine/layers/source.ts';
import { M2_PER_ACRE } from '../../engine/math/units.ts';
import type { Plan } from '../../plan/schema.ts';
import type { FieldResult } from '../results.ts';
import { ringToLonLatOf, sourceCrs } from './place-source.ts';

/** Records further apart than this are not one field, m. */
const WIDEST_FIELD_M = 30_000;

export interface LaidField extends FieldResult {
  readonly issues: readonly Issue[];
  readonly recordsUsed: number;
}

/** Boundary → frame, region and grid. Refuses what is no field; a crossing boundary unless the plan says to split it. */
export function layField(source: Source, plan: Plan['field']): LaidField {
  const where = source.file;
  const effect = 'There is no field to work on';
  if (source.shape !== 'polygons') {
    throw new Refusal({
      code: 'boundary-not-polygons',
      where,
      found: source.shape,
      expected: 'polygons',
      effect,
      remedy: 'Choose the file that holds the field boundary',
    });
  }
  const issues: Issue[] = [];
  const wanted = plan.records ?? source.rings.map((_, k) => k + 1);
  const crs = sourceCrs(source, issues);
  const records: Ring[][] = [];
  for (const record of wanted) {
    if (record > source.records) {
      throw new Refusal({
        code: 'boundary-record-missing',
        where,
        found: `record ${record} asked for`,
        expected: `1 to ${source.records}`,
        effect,
        remedy: 'Choose a record the file has',
      });
    }
    const rings = source.rings[record - 1];
    if (rings && rings.length > 0) records.push(rings.map((ring) => ringToLonLatOf(crs, ring)));
  }
  if (records.length === 0) {
    throw new Refusal({
      code: 'boundary-empty',
      where,
      found: 'no polygon',
      expected: 'at least one',
      effect,
      remedy: 'Choose the file that holds the field boundary',
    });
  }
  const frame = frameAround(records.flat());
  const inFrame = records.map((rings) => rings.map((ring) => ringToFrame(frame, ring)));
  const extent = extentOf(inFrame.flat());
  const widest = Math.max(extent.maxX - extent.minX, extent.maxY - extent.minY);
  if (!(widest < WIDEST_FIELD_M)) {
    throw new Refusal({
      code: 'boundary-many-fields',
      where,
      found: `${records.length} polygons ${Math.round(widest / 1000)} km apart`,
      expected: 'the parts of one field',
      effect,
      remedy: 'Choose the record that is the field (command line: --record N)',
    });
  }
  const drawn = regionFromRecords(inFrame, where, { crossing: plan.crossing });
  const fatal = drawn.issues.find((issue) => issue.severity === 'error');
  if (fatal) throw new Refusal(fatal);
  issues.push(...drawn.issues);
  const area_m2 = regionArea(drawn.region);
  if (!(area_m2 >= 1)) {
    throw new Refusal({
      code: 'boundary-no-area',
      where,
      found: `${area_m2.toFixed(3)} m²`,
      expected: 'at least 1 m²',
      effect,
      remedy: 'Check the boundary and its coordinate system',
    });
  }
  const heading_deg = plan.heading_deg ?? longestSideHeading(drawn.region);
  const grid = layOutGrid(drawn.region, plan.cell_m ?? commonCell_m(area_m2), heading_deg);
  if (grid.area.length === 1) {
    issues.push({
      code: 'field-one-cell',
      severity: 'warning',
      where,
      found: `a field of ${area_m2.toFixed(0)} m² in one cell`,
      expected: 'a field of several cells',
      effect: 'One rate holds for all of it',
      remedy: 'Set a smaller cell if the planter can follow it',
    });
  }
  return {
    frame,
    region: drawn.region,
    area_m2,
    acres: area_m2 / M2_PER_ACRE,
    grid,
    headingFrom: plan.heading_deg === null ? 'longest side' : 'plan',
    changes: drawn.changes,
    issues,
    recordsUsed: records.length,
  };
}
