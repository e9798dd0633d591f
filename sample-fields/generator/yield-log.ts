import { GRAIN, type YieldRecord } from './monitor.ts';
import { round } from './turned-frame.ts';

/** What a column of a yield file can hold, in the unit its name says. */
type Quantity =
  | 'lon'
  | 'lat'
  | 'yield_buPerAc'
  | 'yield_lbPerAc'
  | 'yield_tPerHa'
  | 'flow_lbPerS'
  | 'flow_kgPerS'
  | 'moisture_pct'
  | 'distance_ft'
  | 'distance_in'
  | 'distance_m'
  | 'swath_ft'
  | 'swath_in'
  | 'swath_m'
  | 'speed_mph'
  | 'speed_kmh'
  | 'heading_deg'
  | 'time_s'
  | 'pass'
  | 'header';

/** How a monitor writes its memory down. */
export interface LoggerDesign {
  readonly interval_s: number;
  /** Column name, what it holds, decimals written. */
  readonly columns: readonly (readonly [name: string, holds: Quantity, decimals: number])[];
}

const KG_PER_LB = 0.45359237;
const M_PER_FT = 0.3048;
const LB_PER_AC_IN_T_PER_HA = KG_PER_LB / 1000 / 0.40468564224;
const FT2_PER_AC = 43560;

/** The records as CSV (RFC 4180), one line each. */
export function yieldCsv(
  records: readonly YieldRecord[],
  log: LoggerDesign,
  crop: 'corn' | 'soybean',
): string {
  const lines = [log.columns.map(([name]) => name).join()];
  for (const record of records) {
    const values = quantities(record, log.interval_s, crop);
    lines.push(log.columns.map(([, holds, decimals]) => round(values[holds], decimals)).join());
  }
  return `${lines.join('\r\n')}\r\n`;
}

function quantities(
  record: YieldRecord,
  interval_s: number,
  crop: 'corn' | 'soybean',
): Record<Quantity, number> {
  const lbPerAc = dryLbPerAc(record, interval_s, crop);
  return {
    lon: record.lon,
    lat: record.lat,
    yield_buPerAc: lbPerAc / GRAIN[crop].lbPerBu,
    yield_lbPerAc: lbPerAc,
    yield_tPerHa: lbPerAc * LB_PER_AC_IN_T_PER_HA,
    flow_lbPerS: record.flow_lbPerS,
    flow_kgPerS: record.flow_lbPerS * KG_PER_LB,
    moisture_pct: record.moisture_pct,
    distance_ft: record.distance_ft,
    distance_in: record.distance_ft * 12,
    distance_m: record.distance_ft * M_PER_FT,
    swath_ft: record.swath_ft,
    swath_in: record.swath_ft * 12,
    swath_m: record.swath_ft * M_PER_FT,
    speed_mph: record.speed_mph,
    speed_kmh: record.speed_mph * 1.609344,
    heading_deg: record.heading_deg,
    time_s: record.time_s,
    pass: record.pass,
    header: record.headerDown ? 1 : 0,
  };
}

/** Grain at base moisture over the ground the monitor believes was cut; nothing over no ground. */
function dryLbPerAc(record: YieldRecord, interval_s: number, crop: 'corn' | 'soybean'): number {
  const acres = (record.distance_ft * record.swath_ft) / FT2_PER_AC;
  if (acres < 1e-6) return 0;
  const dry = (100 - record.moisture_pct) / (100 - GRAIN[crop].base_pct);
  return (record.flow_lbPerS * interval_s * dry) / acres;
}
