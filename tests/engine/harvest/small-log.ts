import type { HarvestLog } from '../../../src/engine/harvest/harvest-log.ts';

type Columns = {
  [K in keyof HarvestLog as HarvestLog[K] extends Float64Array | null ? K : never]?: readonly number[];
};
type Facts = Partial<Pick<HarvestLog, 'crop' | 'buPerAcPerValue'>> & { readonly inside?: readonly number[] };

/** A log from the columns given; the others are not recorded. Places default to a line north, two metres a record, inside; yields to 100. */
export function smallLog(records: number, columns: Columns & Facts = {}): HarvestLog {
  const of = (values: readonly number[] | undefined) => (values ? Float64Array.from(values) : null);
  const each = (value: (i: number) => number) => Float64Array.from({ length: records }, (_, i) => value(i));
  return {
    records,
    x_m: of(columns.x_m) ?? each(() => 0),
    y_m: of(columns.y_m) ?? each((i) => 2 * i),
    inside: Uint8Array.from(columns.inside ?? each(() => 1)),
    value: of(columns.value) ?? each(() => 100),
    buPerAcPerValue: columns.buPerAcPerValue ?? null,
    crop: columns.crop ?? null,
    time_s: of(columns.time_s),
    flow_kgPerS: of(columns.flow_kgPerS),
    moisture_pct: of(columns.moisture_pct),
    speed_mPerS: of(columns.speed_mPerS),
    distance_m: of(columns.distance_m),
    swath_m: of(columns.swath_m),
    heading_deg: of(columns.heading_deg),
    header: of(columns.header),
    passNumber: of(columns.passNumber),
  };
}
