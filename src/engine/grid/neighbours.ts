import type { FieldGrid } from './field-grid.ts';

/** The cells beside each cell: four a cell in the order east, north, west, south; −1 where the field is not. */
export function neighbours(grid: FieldGrid): Int32Array {
  const { cols, rows, at } = grid;
  const beside = new Int32Array(grid.area.length * 4);
  for (let cell = 0; cell < grid.area.length; cell++) {
    const col = grid.col[cell];
    const row = grid.row[cell];
    beside[cell * 4] = col + 1 < cols ? at[row * cols + col + 1] : -1;
    beside[cell * 4 + 1] = row + 1 < rows ? at[(row + 1) * cols + col] : -1;
    beside[cell * 4 + 2] = col > 0 ? at[row * cols + col - 1] : -1;
    beside[cell * 4 + 3] = row > 0 ? at[(row - 1) * cols + col] : -1;
  }
  return beside;
}
