import type { HarvestLog } from '../../engine/harvest/harvest-log.ts';
import type { ColumnQuestion } from '../../engine/harvest/recognise/role.ts';
import { yieldIn_buPerAc } from '../../engine/harvest/yield-unit.ts';
import type { Issue } from '../../engine/issue.ts';
import { numberColumn } from '../../engine/layers/number-column.ts';
import type { Source } from '../../engine/layers/source.ts';
import type { Plan } from '../../plan/schema.ts';

export interface TakenLog {
  readonly log: HarvestLog;
  readonly questions: readonly ColumnQuestion[];
  readonly readings: readonly string[];
  readonly issues: readonly Issue[];
}

/** A yield map's records as a harvest log, by what the plan says its columns mean. */
export function takeLog(
  source: Source,
  map: Plan['evidence']['yields'][number],
  plannedCrop: string,
  place: Pick<HarvestLog, 'x_m' | 'y_m' | 'inside'>,
  effect: string,
): TakenLog {
  const crop = map.crop ?? plannedCrop;
  const value = numberColumn(source, map.column, effect);
  const log: HarvestLog = {
    records: source.records,
    ...place,
    value,
    buPerAcPerValue: yieldIn_buPerAc(1, map.unit, crop),
    crop,
    time_s: null,
    flow_kgPerS: null,
    moisture_pct: null,
    speed_mPerS: null,
    distance_m: null,
    swath_m: null,
    heading_deg: null,
    header: null,
    passNumber: null,
  };
  return { log, questions: [], readings: [], issues: [] };
}
