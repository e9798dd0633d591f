import { selectKth } from '../math/select-median.ts';
import type { KeptBins } from './kept-bins.ts';

/** Lower and upper median by square (one value for an odd count); NaN where a square is empty. */
export interface SquareMedians {
  readonly lower: Float64Array;
  readonly upper: Float64Array;
}

/** Medians of the values, by place in `bins.records`, of each square by itself. */
export function squareMedians({ start, records }: KeptBins, value: Float64Array): SquareMedians {
  const lower = new Float64Array(start.length - 1).fill(NaN);
  const upper = new Float64Array(start.length - 1).fill(NaN);
  const work = new Float64Array(records.length);
  for (let square = 0; square < lower.length; square++) {
    const count = start[square + 1] - start[square];
    if (count === 0) continue;
    for (let k = 0; k < count; k++) work[k] = value[start[square] + k];
    lower[square] = selectKth(work, count, (count - 1) >> 1);
    upper[square] = selectKth(work, count, count >> 1);
  }
  return { lower, upper };
}

/**
 * Whether every value from `from` to before `to` lies within `share` of the median of the 3 × 3 squares about theirs, whatever that is: the median of a union lies between
 * the least lower and the greatest upper median of its parts. False where that cannot be told from the parts.
 */
export function surelyNear(
  { lower, upper }: SquareMedians,
  square: number,
  cols: number,
  value: Float64Array,
  from: number,
  to: number,
  share: number,
): boolean {
  let least = Infinity;
  let greatest = -Infinity;
  for (let row = square - cols; row <= square + cols; row += cols) {
    for (let part = row - 1; part <= row + 1; part++) {
      if (lower[part] < least) least = lower[part];
      if (upper[part] > greatest) greatest = upper[part];
    }
  }
  if (!(least > 0)) return false;
  const low = (1 - share) * greatest;
  const high = (1 + share) * least;
  for (let k = from; k < to; k++) if (value[k] < low || value[k] > high) return false;
  return true;
}
