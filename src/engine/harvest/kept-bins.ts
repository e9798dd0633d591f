import type { KeptExtent } from './kept-extent.ts';
import type { TravelFrame } from './travel-frame.ts';

/** Kept records sorted into squares along the passes, with a border of empty squares all round so that every square in use has eight neighbours. */
export interface KeptBins {
  readonly cols: number;
  readonly rows: number;
  /** Records of square k are `records[start[k] … start[k + 1])`, in the order they were cut. */
  readonly start: Uint32Array;
  readonly records: Uint32Array;
  /** Square of each kept record, by record. */
  readonly square: Uint32Array;
}

/** More squares than this many a kept record make the squares larger: far-flung records would otherwise cost memory without end. */
const MOST_SQUARES = 4;
/** The first record lies this share of a square inside it: rows evenly spaced from it then do not lie on edges, where a rounding would decide. */
const INSET = 0.382;

/** Counting sort of the kept records, which must have positions, into squares of `size_m`. Linear time. `extent` holds them all, `order` is the order of cutting. */
export function binKept(
  { along_m, left_m }: Pick<TravelFrame, 'along_m' | 'left_m'>,
  extent: KeptExtent,
  order: Uint32Array,
  kept: Uint8Array,
  size_m: number,
): KeptBins {
  const { count, back_m, ahead_m, right_m, left_m: leftmost_m } = extent;
  const square = new Uint32Array(kept.length);
  if (count === 0)
    return { cols: 0, rows: 0, start: new Uint32Array(1), records: new Uint32Array(0), square };
  const squares = (size: number) => ((ahead_m - back_m) / size + 3) * ((leftmost_m - right_m) / size + 3);
  let size = size_m;
  while (squares(size) > MOST_SQUARES * count + 1e6) size *= 2;
  const cols = Math.floor((ahead_m - back_m) / size + INSET) + 3;
  const rows = Math.floor((leftmost_m - right_m) / size + INSET) + 3;
  const start = new Uint32Array(cols * rows + 1);
  for (let i = 0; i < kept.length; i++) {
    if (!kept[i]) continue;
    const col = Math.floor((along_m[i] - back_m) / size + INSET) + 1;
    const row = Math.floor((left_m[i] - right_m) / size + INSET) + 1;
    square[i] = row * cols + col;
    start[square[i] + 1]++;
  }
  for (let k = 0; k < cols * rows; k++) start[k + 1] += start[k];
  return { cols, rows, start, records: sorted(order, kept, square, start), square };
}

function sorted(order: Uint32Array, kept: Uint8Array, square: Uint32Array, start: Uint32Array): Uint32Array {
  const next = start.slice();
  const records = new Uint32Array(start[start.length - 1]);
  for (let k = 0; k < order.length; k++) {
    const i = order[k];
    if (kept[i]) records[next[square[i]]++] = i;
  }
  return records;
}

/** The same squares with those of their records that are kept still. */
export function stillKept(bins: KeptBins, kept: Uint8Array): KeptBins {
  const start = new Uint32Array(bins.start.length);
  const records = new Uint32Array(bins.records.length);
  let count = 0;
  for (let square = 0; square + 1 < start.length; square++) {
    for (let k = bins.start[square]; k < bins.start[square + 1]; k++) {
      const i = bins.records[k];
      if (kept[i]) records[count++] = i;
    }
    start[square + 1] = count;
  }
  return { ...bins, start, records: records.subarray(0, count) };
}

/** Values by place in `records`: neighbours side by side in memory, which a million look-ups need. */
export function inOrder(value: Float64Array, records: Uint32Array): Float64Array {
  const own = new Float64Array(records.length);
  for (let k = 0; k < own.length; k++) own[k] = value[records[k]];
  return own;
}
