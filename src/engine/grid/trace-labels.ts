import type { Ring } from '../geometry/ring.ts';
import type { FieldGrid } from './field-grid.ts';

/** Straight runs keep a corner every so many cells, so that neighbours bend alike when written in lon/lat. */
const LONGEST_RUN = 8;

/**
 * Outlines of the cells that carry `label`, as rings of whole cells in the turned axes, interior on the left (outer rings
 * counter-clockwise, holes clockwise). Corners on straight runs are left out only where that is so for every label that meets there,
 * so zones that share a side share its vertices too. Cells that touch at a corner only are kept apart.
 */
export function traceLabel(grid: FieldGrid, labels: ArrayLike<number>, label: number): Ring[] {
  const { cols, rows, at } = grid;
  const labelAt = (col: number, row: number): number =>
    col < 0 || row < 0 || col >= cols || row >= rows || at[row * cols + col] < 0
      ? -1
      : labels[at[row * cols + col]];
  const is = (col: number, row: number): boolean => labelAt(col, row) === label;

  // Directed sides of the cells with the label, keyed by the corner they start at: 0 east, 1 north, 2 west, 3 south.
  const wide = cols + 1;
  const starts = new Map<number, number>();
  const add = (corner: number, direction: number) =>
    starts.set(corner, (starts.get(corner) ?? 0) | (1 << direction));
  for (let row = 0; row < rows; row++) {
    for (let col = 0; col < cols; col++) {
      if (!is(col, row)) continue;
      if (!is(col, row - 1)) add(row * wide + col, 0);
      if (!is(col + 1, row)) add(row * wide + col + 1, 1);
      if (!is(col, row + 1)) add((row + 1) * wide + col + 1, 2);
      if (!is(col - 1, row)) add((row + 1) * wide + col, 3);
    }
  }
  const step = [1, wide, -1, -wide];
  const kept = (corner: number): boolean => {
    const col = corner % wide;
    const row = (corner - col) / wide;
    const sw = labelAt(col - 1, row - 1);
    const se = labelAt(col, row - 1);
    const nw = labelAt(col - 1, row);
    const ne = labelAt(col, row);
    const across = sw === se && nw === ne;
    const along = sw === nw && se === ne;
    if (across) return col % LONGEST_RUN === 0;
    if (along) return row % LONGEST_RUN === 0;
    return true;
  };

  const rings: Ring[] = [];
  const walked = new Map<number, number>();
  const isWalked = (corner: number, direction: number) => ((walked.get(corner) ?? 0) >> direction) & 1;
  for (const [corner, directions] of starts) {
    for (let first = 0; first < 4; first++) {
      if (!((directions >> first) & 1) || isWalked(corner, first)) continue;
      const ring: number[] = [];
      let here = corner;
      let direction = first;
      do {
        if (kept(here)) {
          const col = here % wide;
          ring.push(grid.u0 + col * grid.cell_m, grid.v0 + ((here - col) / wide) * grid.cell_m);
        }
        walked.set(here, (walked.get(here) ?? 0) | (1 << direction));
        here += step[direction];
        // Turn left first: at a corner where two cells meet diagonally this stays with the same cell.
        const open = starts.get(here) as number;
        const left = (direction + 1) % 4;
        if ((open >> left) & 1) direction = left;
        else if (!((open >> direction) & 1)) direction = (direction + 3) % 4;
      } while (here !== corner || direction !== first);
      rings.push(Float64Array.from(ring));
    }
  }
  return rings;
}
