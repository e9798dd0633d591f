import { CELL_M, HALF_SIDE_M, SIDE_CELLS } from './field.ts';
import { groundYield } from './true-yield.ts';

/** A surface against the yield of the invented ground at the middles of its cells, bu/ac. */
export interface Errors {
  readonly known: number;
  /** Root of the mean square, and the mean, over the known cells. */
  readonly rmse: number;
  readonly bias: number;
}

/** Cells row by row from the south, NaN for not known. */
export function errors(cells: Float64Array): Errors {
  let [known, sum, squares] = [0, 0, 0];
  for (let cell = 0; cell < cells.length; cell++) {
    if (Number.isNaN(cells[cell])) continue;
    const middle = (k: number) => (k + 0.5) * CELL_M - HALF_SIDE_M;
    const off = cells[cell] - groundYield(middle(cell % SIDE_CELLS), middle(Math.floor(cell / SIDE_CELLS)));
    known++;
    sum += off;
    squares += off * off;
  }
  return { known, rmse: Math.sqrt(squares / known), bias: sum / known };
}
