import type { KeptBins } from './kept-bins.ts';

/** What lies about records sorted into squares. */
export interface NeighbourLags {
  /** By place in `bins.records`: mean over the other records of the 3 × 3 squares about its own; NaN where there are none. */
  readonly lag: Float64Array;
  /** By square: how many others each of its records has. */
  readonly neighbours: Uint32Array;
}

/** Of a figure by place in `bins.records`. */
export function neighbourLags({ cols, rows, start }: KeptBins, figure: Float64Array): NeighbourLags {
  const sums = squareSums(start, figure);
  const lag = new Float64Array(figure.length).fill(NaN);
  const neighbours = new Uint32Array(sums.length);
  for (let square = cols + 1; square < cols * (rows - 1) - 1; square++) {
    if (start[square] === start[square + 1]) continue;
    let sum = 0;
    let count = -1;
    for (let row = square - cols; row <= square + cols; row += cols) {
      sum += sums[row - 1] + sums[row] + sums[row + 1];
      count += start[row + 2] - start[row - 1];
    }
    if (count < 1) continue;
    neighbours[square] = count;
    for (let k = start[square]; k < start[square + 1]; k++) lag[k] = (sum - figure[k]) / count;
  }
  return { lag, neighbours };
}

function squareSums(start: Uint32Array, figure: Float64Array): Float64Array {
  const sums = new Float64Array(start.length - 1);
  for (let square = 0; square < sums.length; square++) {
    let sum = 0;
    for (let k = start[square]; k < start[square + 1]; k++) sum += figure[k];
    sums[square] = sum;
  }
  return sums;
}
