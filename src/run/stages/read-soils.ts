import { type Issue, Refusal } from '../../engine/issue.ts';
import { areaShareMeans } from '../../engine/layers/area-share.ts';
import { soilUnit } from '../../engine/layers/guess-soil-columns.ts';
import { joinTables } from '../../engine/layers/join-tables.ts';
import { numberColumn } from '../../engine/layers/number-column.ts';
import { cellValue, type Source } from '../../engine/layers/source.ts';
import { M2_PER_ACRE } from '../../engine/math/units.ts';
import type { Plan } from '../../plan/schema.ts';
import type { FieldResult, SoilLayer } from '../results.ts';
import { cutPolygons } from './cut-polygons.ts';
import { cornersOf, sourceCrs } from './place-source.ts';
import { refuseApart } from './refuse-apart.ts';
import { soilColumns } from './soil-columns.ts';
import { summarise } from './summarise.ts';

export interface ReadSoils extends SoilLayer {
  readonly issues: readonly Issue[];
  readonly setAside: Readonly<Record<string, number>>;
  /** By table of the chain. */
  readonly tableSetAside: readonly Readonly<Record<string, number>>[];
}

/** Soil polygons (with tables joined where the plan says so) → map units inside the field and a surface by exact area share. */
export function readSoils(
  source: Source,
  tables: readonly Source[],
  field: FieldResult,
  plan: NonNullable<Plan['evidence']['soils']>,
): ReadSoils {
  const where = source.file;
  const effect = 'No zones are drawn without the soils the plan uses';
  if (source.shape !== 'polygons') {
    throw new Refusal({
      code: 'soils-not-polygons',
      where,
      found: source.shape,
      expected: 'polygons',
      effect,
      remedy: 'Choose a file of soil polygons',
    });
  }
  const issues: Issue[] = [];
  const steps = plan.join.map((step, k) => ({ ...step, table: tables[k] }));
  const joined = steps.length > 0 ? joinTables(source, steps, plan.column, effect) : null;
  const values = joined ? joined.values : numberColumn(source, plan.column, effect);
  const names = source.columns.find((column) => column.name === plan.label);
  const setAside: Record<string, number> = {};
  const leave = (reason: string) => {
    setAside[reason] = (setAside[reason] ?? 0) + 1;
  };
  const crs = sourceCrs(source, issues);
  const cut = cutPolygons(source, crs, field);
  issues.push(...cut.issues);
  for (const reason of cut.aside.values()) leave(reason);
  const says = soilColumns(
    source,
    steps,
    cut.pieces.map(({ record }) => record),
  );
  const pieces = cut.pieces.map(({ record, region, area_m2 }, k) => {
    if (Number.isNaN(values[record])) leave('no-value');
    const name = String((names && cellValue(names, record)) ?? `record ${record + 1}`);
    return { name, value: values[record], region, area_m2, columns: says[k] };
  });
  if (pieces.length === 0) {
    const { lon, lat } = cornersOf(source, crs);
    refuseApart(where, lon, lat, field);
    throw new Refusal({
      code: 'soils-outside-field',
      where,
      found: 'no soil polygon touches the field',
      expected: 'soils of this field',
      effect,
      remedy: 'Check the coordinate systems of both files',
    });
  }
  const covered_m2 = pieces.reduce((sum, piece) => sum + piece.area_m2, 0);
  if (covered_m2 > field.area_m2 * 1.001) {
    issues.push({
      code: 'soils-overlap',
      severity: 'warning',
      where,
      found: `${(100 * (covered_m2 / field.area_m2 - 1)).toFixed(1)} % more soil than field`,
      expected: 'polygons that do not overlap',
      effect: 'Where they overlap, values are averaged by area',
      remedy: 'Check the soil file',
    });
  } else if (covered_m2 < field.area_m2 * 0.99) {
    issues.push({
      code: 'soils-gap',
      severity: 'warning',
      where,
      found: `soils over ${(covered_m2 / M2_PER_ACRE).toFixed(3)} of ${field.acres.toFixed(3)} ac`,
      expected: 'the whole field',
      effect: 'Ground without a soil is not known to this layer',
      remedy: 'Fetch the missing map units, or go by yield maps there',
    });
  }
  const surface = areaShareMeans(field.grid, pieces);
  return {
    kind: 'soil',
    id: plan.source,
    label: joined ? `${plan.column} (${tables[tables.length - 1].file})` : plan.column,
    column: plan.column,
    nameColumn: names ? plan.label : null,
    unit: plan.meaning === 'yield' ? 'bu/ac' : soilUnit(plan.column, plan.join.at(-1)?.depth?.how ?? 'mean'),
    values: surface,
    summary: summarise(surface, field.grid.area),
    mapUnits: pieces,
    covered_m2,
    issues,
    setAside,
    tableSetAside: joined?.setAside ?? [],
  };
}
