import type { HarvestLog } from '../../engine/harvest/harvest-log.ts';
import { inRoleUnit } from '../../engine/harvest/in-units.ts';
import { basisText, type MoistureBasis } from '../../engine/harvest/moisture-basis.ts';
import { grainRecords, harvestLog, type LogColumns } from '../../engine/harvest/read-log.ts';
import { recogniseColumns } from '../../engine/harvest/recognise/recognise-columns.ts';
import {
  type ColumnQuestion,
  LOG_ROLES,
  ROLE_WORDS,
  type Role,
} from '../../engine/harvest/recognise/role.ts';
import type { Told } from '../../engine/harvest/recognise/told.ts';
import { shrink, yieldFromFlow } from '../../engine/harvest/yield-from-flow.ts';
import { bushelAndBase, type YieldUnit, yieldIn_buPerAc } from '../../engine/harvest/yield-unit.ts';
import { type Issue, Refusal } from '../../engine/issue.ts';
import { numberColumn } from '../../engine/layers/number-column.ts';
import type { Source } from '../../engine/layers/source.ts';
import { median } from '../../engine/math/median.ts';
import { openIssue } from '../../plan/draft-yield.ts';
import type { Plan } from '../../plan/schema.ts';

type YieldPlan = Plan['evidence']['yields'][number];

export interface TakenLog {
  readonly log: HarvestLog;
  /** Of the values in the log. */
  readonly unit: YieldUnit;
  readonly questions: readonly ColumnQuestion[];
  readonly readings: readonly string[];
  readonly issues: readonly Issue[];
}

/**
 * A yield map's records as a harvest log, by what the plan says its columns mean: the yield as the file gives it, or worked out again from flow. `whole` is the
 * file, where `source` is some of its records.
 */
export function takeLog(
  source: Source,
  planned: YieldPlan,
  plannedCrop: string,
  place: Pick<HarvestLog, 'x_m' | 'y_m' | 'inside'>,
  effect: string,
  whole: Source = source,
): TakenLog {
  const crop = planned.crop ?? plannedCrop;
  const { columns, issues: missing } = columnsThere(source, planned.columns);
  const map = { ...planned, columns };
  const taken =
    map.take === 'flow' ? fromFlow(source, map, crop, effect) : fromColumn(source, map, crop, effect);
  // One unit on every screen: bushels wherever the crop has a bushel.
  const bushels = bushelsIn(taken.unit, map, crop);
  const value = bushels === null || bushels === 1 ? taken.value : taken.value.map((own) => own * bushels);
  const log = harvestLog(source, columns, {
    ...place,
    value,
    buPerAcPerValue: bushels === null ? null : 1,
    crop,
  });
  const questions = openQuestions(source, whole, map, plannedCrop);
  return {
    log,
    unit: bushels === null ? taken.unit : 'bu/ac',
    questions,
    readings: [taken.reading, ...columnReadings(columns)],
    issues: [
      ...missing,
      ...taken.issues,
      ...questions.map((question) => openIssue(question, source.file, map)),
    ],
  };
}

/** The columns the plan names that the file has; a warning for each it has not. */
function columnsThere(
  source: Source,
  named: YieldPlan['columns'],
): { readonly columns: YieldPlan['columns']; readonly issues: readonly Issue[] } {
  const columns = { ...named };
  const issues: Issue[] = [];
  for (const role of LOG_ROLES) {
    const reading = named[role];
    if (!reading || source.columns.some(({ name }) => name === reading.column)) continue;
    columns[role] = null;
    issues.push({
      code: 'column-missing',
      severity: 'warning',
      where: source.file,
      found: `no column ${reading.column}, named as ${ROLE_WORDS[role]}`,
      expected: `one of ${source.columns.map(({ name }) => name).join(', ')}`,
      effect: 'The map goes without it',
      remedy: 'Name a column of the file in the plan, or none (null)',
    });
  }
  return { columns, issues };
}

/** Bushels of the crop in one of the unit; a file that counts by another weight of bushel is brought to the crop's. */
function bushelsIn(unit: YieldUnit, map: YieldPlan, crop: string): number | null {
  const own = bushelAndBase(crop)?.lbPerBu;
  if (unit === 'bu/ac' && map.take === 'column' && map.bushel_lb !== null && own !== undefined)
    return map.bushel_lb / own;
  return yieldIn_buPerAc(1, unit, crop);
}

interface TakenYield {
  readonly value: Float64Array;
  readonly unit: YieldUnit;
  readonly reading: string;
  readonly issues: readonly Issue[];
}

function fromColumn(source: Source, map: YieldPlan, crop: string, effect: string): TakenYield {
  const value = numberColumn(source, map.column, effect);
  const unit = map.unit === 'unknown' ? '' : map.unit;
  const named = `${map.column}: yield${unit ? ` in ${unit}` : ', its unit not known'}`;
  if (map.moisture !== 'wet')
    return { value, unit, reading: `${named}, ${basisText(map.moisture, crop)}`, issues: [] };
  const base = bushelAndBase(crop)?.baseMoisture_pct ?? null;
  const percent = inRoleUnit(source, 'moisture', map.columns.moisture);
  if (base === null || !percent)
    return {
      value,
      unit,
      reading: `${named}, ${basisText('wet', crop)}`,
      issues: [leftWet(source, map, base === null ? `no moisture ${crop} is sold at` : null)],
    };
  const by = { baseMoisture_pct: base, expandDrier: map.expandDrier };
  const dry = value.map((own, i) => own * shrink(percent[i], by));
  return { value: dry, unit, reading: `${named}, wet, brought to ${base} %`, issues: [] };
}

/** Grain that counts with its water, and why. */
function leftWet(source: Source, map: YieldPlan, why: string | null): Issue {
  const { moisture } = map.columns;
  return {
    code: 'yield-left-wet',
    severity: 'warning',
    where: source.file,
    found: why ?? (moisture ? `no unit of moisture told of ${moisture.column}` : 'no column of moisture'),
    expected: 'grain brought to the moisture it is sold at',
    effect: 'The yield counts with the water it was cut with',
    remedy: `Name the moisture ${moisture ? 'column and its unit' : 'column'}, or set the yield expected of the field yourself`,
  };
}

function fromFlow(source: Source, map: YieldPlan, crop: string, effect: string): TakenYield {
  const columns: LogColumns = map.columns;
  const bushel = bushelAndBase(crop);
  const records = grainRecords(source, columns, usualInterval_s(source, columns));
  const lacks = [
    records.flow_kgPerS || records.mass_kg ? '' : ROLE_WORDS.flow,
    records.distance_m || records.speed_mPerS ? '' : `${ROLE_WORDS.distance} or ${ROLE_WORDS.speed}`,
    records.swath_m ? '' : ROLE_WORDS.swath,
    bushel ? '' : `the weight of a bushel of ${crop}`,
  ].filter(Boolean);
  if (!bushel || lacks.length > 0) {
    throw new Refusal({
      code: 'yield-flow-lacks',
      where: source.file,
      found: `no ${lacks.join(', no ')}`,
      expected: 'flow, distance or speed, and swath, each with its unit',
      effect,
      remedy: 'Name the columns in the plan, or take the yield column instead',
    });
  }
  const value = yieldFromFlow(records, {
    lbPerBu: bushel.lbPerBu,
    baseMoisture_pct: records.moisture_pct ? bushel.baseMoisture_pct : null,
    expandDrier: map.expandDrier,
  });
  const basis: MoistureBasis = records.moisture_pct ? 'dry' : 'wet';
  return {
    value,
    unit: 'bu/ac',
    reading: `yield in bu/ac worked out from flow, ${basisText(basis, crop)}, ${bushel.lbPerBu} lb a bushel`,
    issues: records.moisture_pct ? [] : [leftWet(source, map, null)],
  };
}

/** The usual time from one record to the next, where a clock is recorded. */
function usualInterval_s(source: Source, columns: LogColumns): number | null {
  const { time_s } = harvestLog(source, columns, blank(new Float64Array(source.records)));
  if (!time_s) return null;
  const steps = time_s.map((own, i) => (i > 0 && own > time_s[i - 1] ? own - time_s[i - 1] : NaN));
  const usual = median(steps.subarray(0, 10_000));
  return usual > 0 ? usual : null;
}

function blank(value: Float64Array): Parameters<typeof harvestLog>[2] {
  const none = new Float64Array(0);
  return { x_m: none, y_m: none, inside: new Uint8Array(0), value, buPerAcPerValue: null, crop: null };
}

/**
 * Readings nobody has settled yet, asked anew from the records of the map, of its crop and of the columns the plan names; the crop itself of the whole file,
 * where the records are those of one crop of it. What the plan calls open is asked, though only one reading be plausible.
 */
function openQuestions(
  source: Source,
  whole: Source,
  map: YieldPlan,
  plannedCrop: string,
): readonly ColumnQuestion[] {
  if (map.open.length === 0) return [];
  const columns = namedColumns(map);
  const seen = recogniseColumns(source, plannedCrop, { crop: map.crop ?? plannedCrop, columns });
  const asked = seen.questions.filter(({ about }) => map.open.includes(about));
  const cropOf = (own: Source) =>
    recogniseColumns(own, plannedCrop, { columns }).questions.filter(({ about }) => about === 'crop');
  if (map.open.includes('crop')) {
    const here = cropOf(source);
    asked.unshift(...(here.length > 0 || whole === source ? here : cropOf(whole)));
  }
  const left = (about: ColumnQuestion['about']) =>
    map.open.includes(about) && !asked.some((own) => own.about === about);
  if (left('yield unit') && seen.yieldReading)
    asked.push({
      about: 'yield unit',
      options: [
        ...(seen.yieldReading.unit === 'unknown'
          ? []
          : [{ value: seen.yieldReading.unit, because: seen.yieldBecause }]),
        { value: 'unknown', because: 'another unit' },
      ],
      proposed: 0,
    });
  if (left('moisture basis'))
    asked.push({
      about: 'moisture basis',
      options: [
        { value: 'dry', because: seen.basis === 'dry' ? 'it seems to be' : 'most yields are given dry' },
        { value: 'wet', because: seen.basis === 'wet' ? 'it seems to be' : 'yields may be given as cut' },
      ],
      proposed: seen.basis === 'wet' ? 1 : 0,
    });
  return asked;
}

/** Columns of the plan of which something is open yet, and the yield; a unit that is settled goes with it. */
function namedColumns(map: YieldPlan): NonNullable<Told['columns']> {
  const columns: Partial<Record<Role, { column: string; unit?: string }>> = {};
  for (const role of LOG_ROLES) {
    const reading = map.columns[role];
    if (reading && map.open.includes(`${role} unit`) && !map.open.includes(`${role} column`))
      columns[role] = { column: reading.column };
  }
  if (map.take === 'column' && !map.open.includes('yield column'))
    columns.yield =
      map.unit === 'unknown' || map.open.includes('yield unit')
        ? { column: map.column }
        : { column: map.column, unit: map.unit };
  return columns;
}

function columnReadings(columns: LogColumns): string[] {
  return (Object.entries(columns) as [Role, LogColumns[Role]][]).flatMap(([role, reading]) =>
    reading ? [`${reading.column}: ${ROLE_WORDS[role]}${reading.unit ? ` in ${reading.unit}` : ''}`] : [],
  );
}
