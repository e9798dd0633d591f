import type { FieldGrid, Surface } from '../grid/field-grid.ts';

/**
 * Gaussian smoothing of a surface, weighted by cell area; `width_m` is one standard deviation, the kernel ends at two. Unknown cells
 * give nothing and stay unknown.
 */
export function smooth(grid: FieldGrid, surface: Surface, width_m: number): Surface {
  const reach = Math.floor((2 * width_m) / grid.cell_m);
  if (reach < 1) return surface.slice();
  const kernel = Array.from({ length: 2 * reach + 1 }, (_, k) =>
    Math.exp(-0.5 * (((k - reach) * grid.cell_m) / width_m) ** 2),
  );
  return surface.map((own, cell) => {
    if (Number.isNaN(own)) return NaN;
    let sum = 0;
    let weights = 0;
    const rowFrom = Math.max(0, grid.row[cell] - reach);
    const rowTo = Math.min(grid.rows - 1, grid.row[cell] + reach);
    const colFrom = Math.max(0, grid.col[cell] - reach);
    const colTo = Math.min(grid.cols - 1, grid.col[cell] + reach);
    for (let row = rowFrom; row <= rowTo; row++) {
      for (let col = colFrom; col <= colTo; col++) {
        const near = grid.at[row * grid.cols + col];
        if (near < 0 || Number.isNaN(surface[near])) continue;
        const weight =
          kernel[row - grid.row[cell] + reach] * kernel[col - grid.col[cell] + reach] * grid.area[near];
        weights += weight;
        sum += weight * surface[near];
      }
    }
    return sum / weights;
  });
}
