import { selectKth } from '../math/select-median.ts';
import type { KeptBins } from './kept-bins.ts';

/** By square its lower and upper median (one value for an odd count), its least and its greatest value. An empty square has none: infinite, the wrong way round. */
export interface SquareMedians {
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  readonly least: Float64Array;
  readonly greatest: Float64Array;
}

/** Of the values, by place in `bins.records`, of each square by itself. */
export function squareMedians({ start, records }: KeptBins, value: Float64Array): SquareMedians {
  const squares = start.length - 1;
  const lower = new Float64Array(squares).fill(Infinity);
  const upper = new Float64Array(squares).fill(-Infinity);
  const least = lower.slice();
  const greatest = upper.slice();
  const work = new Float64Array(records.length);
  for (let square = 0; square < squares; square++) {
    const count = start[square + 1] - start[square];
    if (count === 0) continue;
    for (let k = 0; k < count; k++) {
      const own = value[start[square] + k];
      work[k] = own;
      least[square] = Math.min(least[square], own);
      greatest[square] = Math.max(greatest[square], own);
    }
    lower[square] = selectKth(work, count, (count - 1) >> 1);
    upper[square] = selectKth(work, count, count >> 1);
  }
  return { lower, upper, least, greatest };
}

/**
 * Whether every value of a square lies within `share` of the median of the 3 × 3 squares about it, whatever that is: the median of a union lies between the least lower
 * and the greatest upper median of its parts. False where that cannot be told from the parts.
 */
export function surelyNear(
  { lower, upper, least, greatest }: SquareMedians,
  square: number,
  cols: number,
  share: number,
): boolean {
  let low = Infinity;
  let high = -Infinity;
  for (let row = square - cols; row <= square + cols; row += cols) {
    low = Math.min(low, lower[row - 1], lower[row], lower[row + 1]);
    high = Math.max(high, upper[row - 1], upper[row], upper[row + 1]);
  }
  return low > 0 && least[square] >= (1 - share) * high && greatest[square] <= (1 + share) * low;
}
