import type { HarvestLog, Passes } from './harvest-log.ts';
import { binKept, type KeptBins } from './kept-bins.ts';

/** Other passes are looked for in squares of this side, three by three: wider than any header. */
const SQUARE_M = 20;

/**
 * Clears the marks of records that other passes bear out. An edge of poor ground is seen by the passes beside it too, an error of the machine by its own pass only. The
 * witnesses of a record are the nearest kept records, marked ones too, of the two other passes nearest to it; its mark is cleared where either lies nearer to its value than to
 * `rival`, the value it was held to be far from. Our own method, no source.
 */
export function bearOut(
  log: HarvestLog,
  passes: Passes,
  kept: Uint8Array,
  marks: Uint8Array,
  rival: number,
): Uint8Array {
  if (!marks.includes(1)) return marks;
  const { value } = log;
  const bins = binKept(log, passes, kept, SQUARE_M, marks);
  const left = marks.slice();
  for (let square = bins.cols + 1; square < bins.cols * (bins.rows - 1) - 1; square++) {
    for (let k = bins.start[square]; k < bins.start[square + 1]; k++) {
      const i = bins.records[k];
      if (!marks[i]) continue;
      const agrees = (w: number) => w >= 0 && Math.abs(value[w] - value[i]) < Math.abs(value[w] - rival);
      if (besides(log, passes, bins, square, i).some(agrees)) left[i] = 0;
    }
  }
  return left;
}

/** The nearest records of the two other passes nearest to `i`, which lies in the square; −1 where there is none. */
function besides(
  { x_m, y_m }: HarvestLog,
  { pass }: Passes,
  { cols, start, records }: KeptBins,
  square: number,
  i: number,
): readonly [number, number] {
  let [first, second] = [-1, -1];
  let [toFirst, toSecond] = [Infinity, Infinity];
  for (let row = square - cols; row <= square + cols; row += cols) {
    for (let k = start[row - 1]; k < start[row + 2]; k++) {
      const w = records[k];
      if (pass[w] === pass[i]) continue;
      const d2 = (x_m[w] - x_m[i]) ** 2 + (y_m[w] - y_m[i]) ** 2;
      if (d2 < toFirst) {
        if (first >= 0 && pass[first] !== pass[w]) [second, toSecond] = [first, toFirst];
        [first, toFirst] = [w, d2];
      } else if (d2 < toSecond && pass[w] !== pass[first]) [second, toSecond] = [w, d2];
    }
  }
  return [first, second];
}
