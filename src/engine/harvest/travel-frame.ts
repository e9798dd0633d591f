import type { HarvestLog, Passes } from './harvest-log.ts';
import { binKept, type KeptBins, stillKept } from './kept-bins.ts';
import { type KeptExtent, keptExtent } from './kept-extent.ts';
import { travelAxes } from './travel-axes.ts';

/** Where the records of a log lie by the way they were driven: worked out once for all the rules that look at neighbours. */
export interface TravelFrame {
  /** Along the passes and to the left of them, by record. */
  readonly along_m: Float64Array;
  readonly left_m: Float64Array;
  /** How far the kept records reach; asked again, how far those kept at first do. */
  extent(kept: Uint8Array): KeptExtent;
  /** The kept records in squares of a side. Squares asked for again lie as they lay, without the records set aside since. */
  squares(kept: Uint8Array, size_m: number): KeptBins;
}

export function travelFrame(log: HarvestLog, passes: Passes): TravelFrame {
  const { cos, sin } = travelAxes(log, passes);
  const { records, x_m, y_m } = log;
  const along_m = new Float64Array(records);
  const left_m = new Float64Array(records);
  for (let i = 0; i < records; i++) {
    along_m[i] = x_m[i] * cos + y_m[i] * sin;
    left_m[i] = y_m[i] * cos - x_m[i] * sin;
  }
  let reach: KeptExtent | null = null;
  const sorted = new Map<number, KeptBins>();
  return { along_m, left_m, extent, squares };

  function extent(kept: Uint8Array): KeptExtent {
    reach ??= keptExtent({ along_m, left_m }, kept);
    return reach;
  }

  function squares(kept: Uint8Array, size_m: number): KeptBins {
    const before = sorted.get(size_m);
    const bins = before
      ? stillKept(before, kept)
      : binKept({ along_m, left_m }, extent(kept), passes.order, kept, size_m);
    sorted.set(size_m, bins);
    return bins;
  }
}
