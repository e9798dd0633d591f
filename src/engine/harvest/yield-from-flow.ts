import { KG_PER_LB, M2_PER_ACRE, shrinkFactor } from '../math/units.ts';

/** The grain and the ground of each record; NaN where a record lacks it, null where the file does. */
export interface GrainRecords {
  readonly flow_kgPerS: Float64Array | null;
  /** Grain of the record: goes before flow · seconds. */
  readonly mass_kg: Float64Array | null;
  /** Seconds of the record, by record or for all. */
  readonly interval_s: Float64Array | number | null;
  readonly distance_m: Float64Array | null;
  readonly speed_mPerS: Float64Array | null;
  readonly swath_m: Float64Array | null;
  /** % of wet weight. */
  readonly moisture_pct: Float64Array | null;
}

export interface YieldBasis {
  readonly lbPerBu: number;
  /** The moisture bushels are counted at, %; null counts grain as it was cut. */
  readonly baseMoisture_pct: number | null;
  /** Whether grain drier than that counts for more than it weighs. Conventions differ; buyers as a rule do not pay it. */
  readonly expandDrier: boolean;
}

/**
 * Yield of each record, bu/ac: grain · (100 − M)/(100 − M0) ÷ weight of a bushel ÷ (distance · swath). Grain is that of the record, else flow · seconds;
 * without a distance it is speed · seconds, without seconds distance ÷ speed. NaN where anything lacks or no ground was covered. Source: the arithmetic of a
 * bushel over 43,560 ft² an acre (University of Wisconsin Extension, Harvest Math 101).
 */
export function yieldFromFlow(records: GrainRecords, basis: YieldBasis): Float64Array {
  const length = (records.mass_kg ?? records.flow_kgPerS ?? new Float64Array(0)).length;
  const perKgPerM2 = M2_PER_ACRE / (KG_PER_LB * basis.lbPerBu);
  return Float64Array.from({ length }, (_, i) => {
    const grain_kgPerM2 = grainOverGround(records, i);
    return grain_kgPerM2 * shrink(records.moisture_pct?.[i] ?? NaN, basis) * perKgPerM2;
  });
}

function grainOverGround(records: GrainRecords, i: number): number {
  const swath = above(records.swath_m?.[i]);
  const speed = above(records.speed_mPerS?.[i]);
  const told = above(typeof records.interval_s === 'number' ? records.interval_s : records.interval_s?.[i]);
  const mass = records.mass_kg?.[i] ?? NaN;
  const flow = records.flow_kgPerS?.[i] ?? NaN;
  const distance = above(records.distance_m?.[i]);
  if (!Number.isNaN(mass)) {
    const covered = Number.isNaN(distance) ? speed * told : distance;
    return mass / (covered * swath);
  }
  // Flow over speed is flow · seconds over distance, whatever the seconds.
  return Number.isNaN(distance) || Number.isNaN(told)
    ? flow / (speed * swath)
    : (flow * told) / (distance * swath);
}

/** Nothing over no ground is not known, not without end. */
function above(value: number | undefined): number {
  return value !== undefined && value > 0 ? value : NaN;
}

/** What is left of grain of a moisture (% of wet weight) at the one bushels are counted at, as a share; NaN of a moisture that is none. */
export function shrink(
  moisture_pct: number,
  { baseMoisture_pct, expandDrier }: Omit<YieldBasis, 'lbPerBu'>,
): number {
  if (baseMoisture_pct === null) return 1;
  if (!(moisture_pct >= 0 && moisture_pct < 100)) return NaN;
  const factor = shrinkFactor(moisture_pct, baseMoisture_pct);
  return expandDrier ? factor : Math.min(1, factor);
}
