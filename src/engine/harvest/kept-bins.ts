import type { HarvestLog, Passes } from './harvest-log.ts';
import { keptExtent } from './kept-extent.ts';
import { travelAxes } from './travel-axes.ts';

/** Kept records sorted into squares along the passes, with a border of empty squares all round so that every square in use has eight neighbours. */
export interface KeptBins {
  readonly cols: number;
  readonly rows: number;
  /** Records of square k are `records[start[k] … start[k + 1])`, in the order they were cut. */
  readonly start: Uint32Array;
  readonly records: Uint32Array;
}

/** More squares than this many a kept record make the squares larger: far-flung records would otherwise cost memory without end. */
const MOST_SQUARES = 4;
/** The first record lies this share of a square inside it: rows evenly spaced from it then do not lie on edges, where a rounding would decide. */
const INSET = 0.382;

/**
 * Counting sort of the kept records, which must have positions, into squares of `size_m`. Linear time. With `marks`, only those in squares that hold a marked record and in
 * the eight about them.
 */
export function binKept(
  log: HarvestLog,
  passes: Passes,
  kept: Uint8Array,
  size_m: number,
  marks?: Uint8Array,
): KeptBins {
  const { records, x_m, y_m } = log;
  const axes = travelAxes(log, passes);
  const { cos, sin } = axes;
  const { count, minU, maxU, minV, maxV } = keptExtent(log, axes, kept);
  if (count === 0) return { cols: 0, rows: 0, start: new Uint32Array(1), records: new Uint32Array(0) };
  const squares = (size: number) => ((maxU - minU) / size + 3) * ((maxV - minV) / size + 3);
  let size = size_m;
  while (squares(size) > MOST_SQUARES * count + 1e6) size *= 2;
  const cols = Math.floor((maxU - minU) / size + INSET) + 3;
  const rows = Math.floor((maxV - minV) / size + INSET) + 3;
  const square = new Uint32Array(records);
  for (let i = 0; i < records; i++) {
    if (!kept[i]) continue;
    const col = Math.floor((x_m[i] * cos + y_m[i] * sin - minU) / size + INSET) + 1;
    const row = Math.floor((y_m[i] * cos - x_m[i] * sin - minV) / size + INSET) + 1;
    square[i] = row * cols + col;
  }
  const wanted = marks ? squaresNear(marks, square, cols, rows) : null;
  const start = new Uint32Array(cols * rows + 1);
  for (let i = 0; i < records; i++) if (kept[i] && (!wanted || wanted[square[i]])) start[square[i] + 1]++;
  for (let k = 0; k < cols * rows; k++) start[k + 1] += start[k];
  const next = start.slice();
  const sorted = new Uint32Array(start[cols * rows]);
  const { order } = passes;
  for (let k = 0; k < order.length; k++) {
    const i = order[k];
    if (kept[i] && (!wanted || wanted[square[i]])) sorted[next[square[i]]++] = i;
  }
  return { cols, rows, start, records: sorted };
}

/** 1 for squares that hold a marked record or lie beside one that does. */
function squaresNear(marks: Uint8Array, square: Uint32Array, cols: number, rows: number): Uint8Array {
  const near = new Uint8Array(cols * rows);
  for (let i = 0; i < marks.length; i++) {
    if (!marks[i]) continue;
    for (let row = square[i] - cols; row <= square[i] + cols; row += cols) near.fill(1, row - 1, row + 2);
  }
  return near;
}

/** Values by place in `records`: neighbours side by side in memory, which a million look-ups need. */
export function inOrder(value: Float64Array, records: Uint32Array): Float64Array {
  const own = new Float64Array(records.length);
  for (let k = 0; k < own.length; k++) own[k] = value[records[k]];
  return own;
}
