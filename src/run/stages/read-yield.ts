import { crsToLonLat } from '../../engine/geodesy/crs.ts';
import { toFrame } from '../../engine/geodesy/field-frame.ts';
import { pointsInside } from '../../engine/geometry/point-in-region.ts';
import { cleanHarvest, type RuleReport } from '../../engine/harvest/clean-harvest.ts';
import { grainRate } from '../../engine/harvest/grain-rate.ts';
import { findPasses } from '../../engine/harvest/passes.ts';
import { shiftByDelay } from '../../engine/harvest/shift-by-delay.ts';
import { type Issue, Refusal } from '../../engine/issue.ts';
import { pickRows, rowsWhere } from '../../engine/layers/pick-rows.ts';
import type { Source } from '../../engine/layers/source.ts';
import type { CleaningPlan } from '../../plan/cleaning-schema.ts';
import type { Plan } from '../../plan/schema.ts';
import { yieldId } from '../../plan/yield-id.ts';
import type { FieldResult, YieldLayer } from '../results.ts';
import { findDelay, tellDelay } from './find-delay.ts';
import { sourceCrs } from './place-source.ts';
import { pointsToSurface } from './points-to-surface.ts';
import { refuseApart } from './refuse-apart.ts';
import { summarise } from './summarise.ts';
import { takeLog } from './take-log.ts';

export interface ReadYield extends YieldLayer {
  readonly issues: readonly Issue[];
  readonly source: string;
  /** Rows of the file the map is made of; null for all. */
  readonly rows: Uint32Array | null;
}

type YieldPlan = Plan['evidence']['yields'][number];

/** Yield points → a log in the field frame, its delay taken off, its records judged by every rule, and a surface of those kept. */
export function readYield(
  source: Source,
  field: FieldResult,
  map: YieldPlan,
  plan: { readonly crop: string; readonly cleaning: CleaningPlan },
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
  const rows = map.where ? rowsWhere(source, map.where) : null;
  const own = rows ? pickRows(source, rows) : source;
  if (map.where && rows === null) throw harvestMissing(where, map, effect);
  const { lon, lat } = crsToLonLat(sourceCrs(source, issues), own.x, own.y);
  const { x, y } = toFrame(field.frame, lon, lat);
  const inside = pointsInside(field.region, x, y);
  const taken = takeLog(own, map, plan.crop, { x_m: x, y_m: y, inside }, effect, source);
  issues.push(...taken.issues);
  const passes = findPasses(taken.log);
  const rate = grainRate(taken.log, passes);
  const delay = findDelay(taken.log, passes, map.delay_s, rate);
  issues.push(...tellDelay(delay, taken.log, where));
  const moved = delay.delay_s !== 0;
  const log = moved ? shiftByDelay(taken.log, passes, delay.delay_s, rate) : taken.log;
  // Where grain was moved, passes begin and end where it was cut.
  const judged = cleanHarvest(log, moved ? findPasses(log, passes.track) : passes, plan.cleaning);
  const { kept, count: keptCount } = keptValues(log.value, judged.state);
  if (keptCount === 0) {
    refuseApart(where, lon, lat, field);
    const reasons = judged.report.filter((rule) => rule.setAside > 0);
    throw new Refusal({
      code: 'yield-no-points-inside',
      where,
      found: `none of ${own.records} points kept (${
        reasons.map((rule) => `${rule.setAside} ${rule.id}`).join(', ') || 'no points'
      })`,
      expected: 'points with a yield inside the field',
      effect,
      remedy: 'Check that the map is of this field, its coordinate system and its yield column',
    });
  }
  issues.push(...tellDoubt(judged.report, where));
  const surface = pointsToSurface(field.grid, x, y, kept, map.surface, where);
  issues.push(...surface.issues);
  const summary = summarise(surface.values, field.grid.area);
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
    id: yieldId(map),
    source: map.source,
    label: [map.year === null ? source.file : `Yield ${map.year}`, map.where?.equals]
      .filter(Boolean)
      .join(', '),
    unit: taken.unit,
    year: map.year,
    crop: map.crop,
    use: map.use,
    weight: map.weight,
    unusual: map.unusual,
    values: surface.values,
    error: surface.error,
    support: surface.support,
    method: surface.method,
    variogram: surface.variogram,
    summary,
    points: { x, y, value: log.value, state: judged.state, reasons: judged.reasons },
    rows,
    cleaning: judged.report,
    delay,
    questions: taken.questions,
    readings: taken.readings,
    issues,
  };
}

/** Values of the records kept (state 0), NaN for the others. */
export function keptValues(
  value: Float64Array,
  state: Uint8Array,
): { readonly kept: Float64Array; readonly count: number } {
  const kept = new Float64Array(value.length).fill(NaN);
  let count = 0;
  for (let i = 0; i < value.length; i++) {
    if (state[i] !== 0) continue;
    kept[i] = value[i];
    count++;
  }
  return { kept, count };
}

function harvestMissing(where: string, map: YieldPlan, effect: string): Refusal {
  return new Refusal({
    code: 'column-missing',
    where,
    found: `no column ${map.where?.column}`,
    expected: 'the column that tells one harvest from another',
    effect,
    remedy: 'Name a column of the file',
  });
}

/** A rule that would set aside most of a log was not let: that speaks of the log. */
function tellDoubt(report: readonly RuleReport[], where: string): Issue[] {
  return report
    .filter(({ untried }) => untried?.startsWith('it would'))
    .map(({ title, untried }) => ({
      code: 'cleaning-log-in-doubt',
      severity: 'warning',
      where,
      found: `by the rule “${title}” ${untried}`,
      expected: 'a rule to find some records in a hundred',
      effect: 'The rule is not applied to this map',
      remedy: 'Check the units and columns of the log, or the thresholds of the rule',
    }));
}
