import type { Column, Source } from '../layers/source.ts';
import type { HarvestLog } from './harvest-log.ts';
import { headerStates } from './header-words.ts';
import { inRoleUnit } from './in-units.ts';
import { timesOf_s } from './read-times.ts';
import type { ColumnReading, Role } from './recognise/role.ts';
import type { GrainRecords } from './yield-from-flow.ts';

/** Columns of a log by what they mean; one left out is not there. */
export type LogColumns = Readonly<Partial<Record<Role, ColumnReading | null>>>;

/** What a log takes from elsewhere: the places in the field frame, and the yield with its crop. */
export type LogFrame = Pick<HarvestLog, 'x_m' | 'y_m' | 'inside' | 'value' | 'buPerAcPerValue' | 'crop'>;

/** A source as a harvest log, every figure in SI units by what its columns are said to mean. A column in an unknown unit is left out. */
export function harvestLog(source: Source, columns: LogColumns, frame: LogFrame): HarvestLog {
  const si = (role: Role) => inRoleUnit(source, role, columns[role] ?? null);
  return {
    records: source.records,
    ...frame,
    time_s: logTimes(source, columns),
    flow_kgPerS: si('flow'),
    moisture_pct: si('moisture'),
    speed_mPerS: si('speed'),
    distance_m: si('distance'),
    swath_m: si('swath'),
    heading_deg:
      si('heading')?.map((own) => (own >= 0 && own < 360 ? own : ((own % 360) + 360) % 360)) ?? null,
    header: logHeader(source, columns),
    passNumber: si('pass'),
  };
}

/** What a yield is worked out from; `usual_s` stands where no column tells how long a record took. */
export function grainRecords(source: Source, columns: LogColumns, usual_s: number | null): GrainRecords {
  const si = (role: Role) => inRoleUnit(source, role, columns[role] ?? null);
  return {
    flow_kgPerS: si('flow'),
    mass_kg: si('mass'),
    interval_s: si('interval') ?? usual_s,
    distance_m: si('distance'),
    speed_mPerS: si('speed'),
    swath_m: si('swath'),
    moisture_pct: si('moisture'),
  };
}

function logTimes(source: Source, columns: LogColumns): Float64Array | null {
  const [time, date] = [columnOf(source, columns.time), columnOf(source, columns.date)];
  return time ? timesOf_s(time, columns.time?.unit ?? '', date) : null;
}

function logHeader(source: Source, columns: LogColumns): Float64Array | null {
  const column = columnOf(source, columns.header);
  if (!column) return null;
  const states = headerStates(column, columns.header?.unit === 'up is 1');
  return states.some((own) => !Number.isNaN(own)) ? states : null;
}

function columnOf(source: Source, reading: ColumnReading | null | undefined): Column | null {
  return source.columns.find(({ name }) => name === reading?.column) ?? null;
}
