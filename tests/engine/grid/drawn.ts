import type { FieldGrid } from '../../../src/engine/grid/field-grid.ts';

export interface Drawn {
  readonly grid: FieldGrid;
  /** The digit drawn in each cell. */
  readonly labels: Uint8Array;
}

/**
 * A grid as you see it, north at the top: a digit a cell, `.` where the field is not. Whole cells of `cell_m` from the origin, heading north;
 * `areas` gives cells another area, in the order of the grid (row by row from the south-west).
 */
export function drawn(picture: readonly string[], cell_m = 1, areas: readonly number[] = []): Drawn {
  const rows = picture.length;
  const cols = picture[0].length;
  const cells: { col: number; row: number; label: number }[] = [];
  const at = new Int32Array(cols * rows).fill(-1);
  for (let row = 0; row < rows; row++) {
    for (let col = 0; col < cols; col++) {
      const sign = picture[rows - 1 - row][col];
      if (sign === '.') continue;
      at[row * cols + col] = cells.length;
      cells.push({ col, row, label: Number(sign) });
    }
  }
  const grid: FieldGrid = {
    cell_m,
    heading_deg: 0,
    u0: 0,
    v0: 0,
    cols,
    rows,
    col: Int32Array.from(cells, ({ col }) => col),
    row: Int32Array.from(cells, ({ row }) => row),
    area: Float64Array.from(cells, (_, k) => areas[k] ?? cell_m * cell_m),
    x: Float64Array.from(cells, ({ col }) => (col + 0.5) * cell_m),
    y: Float64Array.from(cells, ({ row }) => (row + 0.5) * cell_m),
    at,
  };
  return { grid, labels: Uint8Array.from(cells, ({ label }) => label) };
}

/** Labels as a picture again. */
export function picture(grid: FieldGrid, labels: ArrayLike<number>): string[] {
  return Array.from({ length: grid.rows }, (_, k) => {
    const row = grid.rows - 1 - k;
    return Array.from({ length: grid.cols }, (_, col) => {
      const cell = grid.at[row * grid.cols + col];
      return cell < 0 ? '.' : String(labels[cell]);
    }).join('');
  });
}
