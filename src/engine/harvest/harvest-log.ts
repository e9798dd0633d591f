import type { Track } from './track.ts';

/**
 * The records of one harvest in the field frame, row by row as in the file. A figure that a record lacks is NaN; a figure the file has no column of is
 * null. `value` is the yield as taken, in any unit: most rules compare it with itself.
 */
export interface HarvestLog {
  readonly records: number;
  readonly x_m: Float64Array;
  readonly y_m: Float64Array;
  /** 1 inside the field. */
  readonly inside: Uint8Array;
  readonly value: Float64Array;
  /** What one of `value` is in bu/ac of the crop; null when unit or bushel is not known. */
  readonly buPerAcPerValue: number | null;
  /** Crop harvested, null when not known. */
  readonly crop: string | null;
  /** Seconds from any start, as recorded. */
  readonly time_s: Float64Array | null;
  /** Mass of wet grain a second. */
  readonly flow_kgPerS: Float64Array | null;
  /** % of wet weight. */
  readonly moisture_pct: Float64Array | null;
  readonly speed_mPerS: Float64Array | null;
  /** Travelled since the record before. */
  readonly distance_m: Float64Array | null;
  /** Width cut. */
  readonly swath_m: Float64Array | null;
  /** Clockwise from north. */
  readonly heading_deg: Float64Array | null;
  /** 1 header down, 0 up; NaN not recorded. */
  readonly header: Float64Array | null;
  /** Pass number as recorded by the machine. */
  readonly passNumber: Float64Array | null;
}

/** Records in the order they were cut, broken into passes: runs without a stop, a turn or a gap. */
export interface Passes {
  /** Records by order of time (of the file where no time is recorded). */
  readonly order: Uint32Array;
  /** Pass of each record, by record; −1 for one without a position. */
  readonly pass: Int32Array;
  /** By pass: its first and last places in `order`, both in it. */
  readonly first: Uint32Array;
  readonly last: Uint32Array;
  /** Seconds between records of the order: recorded, or the usual interval where no time is. */
  readonly interval_s: number;
  /** The way the passes are parts of. */
  readonly track: Track;
}
