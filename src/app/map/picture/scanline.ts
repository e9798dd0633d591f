import type { Region } from '../../../engine/geometry/ring.ts';
import type { FieldGrid } from '../../../engine/grid/field-grid.ts';
import { turnRegion, turnTo } from '../../../engine/grid/turn.ts';

/**
 * Where the line `v = at` runs inside a region, as pairs from, to in rising order (even-odd rule). With `axis` 1 the
 * line is `u = at` and the pairs are of v.
 */
export function spansAt(region: Region, at: number, axis: 0 | 1): number[] {
  const across = 1 - axis;
  const crossings: number[] = [];
  for (const { outer, holes } of region) {
    for (const ring of [outer, ...holes]) {
      for (let i = 0; i < ring.length; i += 2) {
        const j = (i + 2) % ring.length;
        const a = ring[i + across];
        const b = ring[j + across];
        // Half open, so that a vertex on the line counts once.
        if (a <= at === b <= at) continue;
        crossings.push(ring[i + axis] + ((at - a) / (b - a)) * (ring[j + axis] - ring[i + axis]));
      }
    }
  }
  return crossings.sort((a, b) => a - b);
}

/** Which region holds the centre of each cell: its index, −1 where none does. For drawing only. */
export function regionOfCells(grid: FieldGrid, regions: readonly Region[]): Int16Array {
  const label = new Int16Array(grid.area.length).fill(-1);
  const turn = turnTo(grid.heading_deg);
  regions.forEach((region, index) => {
    const turned = turnRegion(turn, region);
    for (let row = 0; row < grid.rows; row++) {
      const spans = spansAt(turned, grid.v0 + (row + 0.5) * grid.cell_m, 0);
      for (let k = 0; k + 1 < spans.length; k += 2) {
        const from = Math.max(0, Math.ceil((spans[k] - grid.u0) / grid.cell_m - 0.5));
        const to = Math.min(grid.cols - 1, Math.floor((spans[k + 1] - grid.u0) / grid.cell_m - 0.5));
        for (let col = from; col <= to; col++) {
          const cell = grid.at[row * grid.cols + col];
          if (cell >= 0) label[cell] = index;
        }
      }
    }
  });
  return label;
}
