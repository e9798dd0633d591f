import { crsToLonLat } from '../../engine/geodesy/crs.ts';
import { toFrame } from '../../engine/geodesy/field-frame.ts';
import { regionLocator } from '../../engine/geometry/point-in-region.ts';
import { countByReason, judgeYieldPoints } from '../../engine/harvest/set-aside.ts';
import { type Issue, Refusal } from '../../engine/issue.ts';
import { blockMeans } from '../../engine/layers/block-mean.ts';
import { inverseDistance } from '../../engine/layers/inverse-distance.ts';
import { numberColumn } from '../../engine/layers/number-column.ts';
import type { Source } from '../../engine/layers/source.ts';
import type { Plan } from '../../plan/schema.ts';
import type { FieldResult, YieldLayer } from '../results.ts';
import { sourceCrs } from './place-source.ts';
import { summarise } from './summarise.ts';

export interface ReadYield extends YieldLayer {
  readonly issues: readonly Issue[];
  readonly setAside: Readonly<Record<string, number>>;
}

/** Gaps between passes are filled from points this many cells away, and no further: beyond it nothing is known. */
const GAP_CELLS = 2;

/** Yield points → judged points and a surface: cell means, small gaps filled by inverse distance (power 2, 12 nearest). */
export function readYield(
  source: Source,
  field: FieldResult,
  map: Plan['evidence']['yields'][number],
  keep: { from: number; to: number },
): ReadYield {
  const where = source.file;
  const effect = map.use
    ? 'No zones are drawn without a yield map the plan uses'
    : 'The yield map is left out; the plan does not use it';
  if (source.shape !== 'points') {
    throw new Refusal({
      code: 'yield-not-points',
      where,
      found: source.shape,
      expected: 'points',
      effect,
      remedy: 'Choose a file of yield points',
    });
  }
  const issues: Issue[] = [];
  const value = numberColumn(source, map.column, effect);
  const { lon, lat } = crsToLonLat(sourceCrs(source, issues), source.x, source.y);
  const { x, y } = toFrame(field.frame, lon, lat);
  const isInside = regionLocator(field.region);
  const inside = new Uint8Array(x.length);
  for (let i = 0; i < x.length; i++) inside[i] = isInside(x[i], y[i]) ? 1 : 0;
  const judged = judgeYieldPoints(x, y, value, inside, keep);
  // Rows the reader found without a position stand in its own account already.
  const setAside = countByReason(judged, (row) => !Number.isNaN(source.x[row]));
  const kept = value.map((own, i) => (judged.state[i] === 0 ? own : NaN));
  const keptCount = judged.state.reduce((sum, state) => sum + (state === 0 ? 1 : 0), 0);
  if (keptCount === 0) {
    throw new Refusal({
      code: 'yield-no-points-inside',
      where,
      found: `none of ${source.records} points kept (${
        Object.entries(setAside)
          .map(([reason, n]) => `${n} ${reason}`)
          .join(', ') || 'no points'
      })`,
      expected: 'points with a yield inside the field',
      effect,
      remedy: 'Check that the map is of this field, its coordinate system and its yield column',
    });
  }
  const { values, support } = blockMeans(field.grid, x, y, kept);
  const gaps = Uint8Array.from(support, (points) => (points === 0 ? 1 : 0));
  const filled = inverseDistance(
    field.grid,
    x,
    y,
    kept,
    { radius_m: GAP_CELLS * field.grid.cell_m, most: 12, power: 2 },
    gaps,
  );
  const surface = values.map((own, cell) => (gaps[cell] ? filled[cell] : own));
  const summary = summarise(surface, field.grid.area);
  if (summary.knownShare < 0.5) {
    issues.push({
      code: 'yield-covers-little',
      severity: 'warning',
      where,
      found: `${(100 * summary.knownShare).toFixed(0)} % of the field`,
      expected: 'most of it',
      effect: 'The rest of the field goes without this year',
      remedy: 'Check that the map is of this field',
    });
  }
  return {
    kind: 'yield',
    id: map.source,
    label: map.year === null ? source.file : `Yield ${map.year}`,
    unit: map.unit === 'unknown' ? '' : map.unit,
    year: map.year,
    use: map.use,
    values: surface,
    summary,
    points: { x, y, value, state: judged.state, reasons: judged.reasons },
    issues,
    setAside,
  };
}
