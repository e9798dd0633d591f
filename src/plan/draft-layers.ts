import { recogniseColumns } from '../engine/harvest/recognise/recognise-columns.ts';
import { guessUnit } from '../engine/layers/guess-unit.ts';
import type { NumberColumn } from '../engine/layers/source.ts';
import type { DraftFile } from './draft.ts';
import type { PlanInput } from './schema.ts';

type LayerPlan = NonNullable<NonNullable<PlanInput['evidence']>['layers']>[number];

/** Columns of one file taken for layers to look at, at most. */
const MOST_LAYERS = 6;
/** More points than this are a log of passes and no samples: cells then have points of their own. */
const SPARSE = 2000;

/** Layers that are only looked at: the rate that was planted, the bands of a raster, the measures of soil samples. */
export function draftLayers({ source, entry }: DraftFile, crop: string): LayerPlan[] {
  if (!source) return [];
  const layer = (column: string, unit: string): LayerPlan => ({
    source: entry.id,
    column,
    label: column.slice(0, 80),
    unit: unit.slice(0, 20),
    surface: source.records > SPARSE ? 'cell-means' : 'kriging',
  });
  if (source.shape === 'points') {
    const { columns } = recogniseColumns(source, crop);
    const rate = columns.rate ?? columns.target;
    if (rate) return [layer(rate.column, rate.unit === 'unknown' ? '' : rate.unit)];
  }
  return source.columns
    .filter(
      (column): column is NumberColumn => column.kind === 'number' && !isId(column.name) && varies(column),
    )
    .slice(0, MOST_LAYERS)
    .map(({ name, unit }) => layer(name, unit ?? guessUnit(name)));
}

/** Numbers that name a record, or its place, and measure nothing. */
function isId(name: string): boolean {
  return /(^|_| )(id|fid|no|nr|num|number|lon|lat|longitude|latitude|x|y|easting|northing)$/i.test(name);
}

function varies({ values }: NumberColumn): boolean {
  const first = values.find((value) => !Number.isNaN(value));
  return first !== undefined && values.some((value) => !Number.isNaN(value) && value !== first);
}
