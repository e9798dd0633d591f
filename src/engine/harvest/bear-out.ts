import type { HarvestLog, Passes } from './harvest-log.ts';
import type { KeptBins } from './kept-bins.ts';
import type { TravelFrame } from './travel-frame.ts';

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
  frame: TravelFrame,
  kept: Uint8Array,
  marks: Uint8Array,
  rival: number,
): Uint8Array {
  if (!marks.includes(1)) return marks;
  const { value } = log;
  const bins = frame.squares(kept, SQUARE_M);
  const left = marks.slice();
  for (let i = marks.indexOf(1); i >= 0; i = marks.indexOf(1, i + 1)) {
    const agrees = (w: number) => w >= 0 && Math.abs(value[w] - value[i]) < Math.abs(value[w] - rival);
    if (besides(log, passes, bins, i).some(agrees)) left[i] = 0;
  }
  return left;
}

/** The nearest records of the two other passes nearest to `i`; −1 where there is none. */
function besides(
  { x_m, y_m }: HarvestLog,
  { pass }: Passes,
  { cols, start, records, square }: KeptBins,
  i: number,
): readonly [number, number] {
  let [first, second] = [-1, -1];
  let [toFirst, toSecond] = [Infinity, Infinity];
  for (let row = square[i] - cols; row <= square[i] + cols; row += cols) {
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
