import type { FieldGrid } from '../grid/field-grid.ts';
import { neighbours } from '../grid/neighbours.ts';

/**
 * Under this a cell is only a sliver of the boundary, m²; it goes with the neighbour that holds most. A quarter of the cell on grids
 * under 2 m, so that a whole cell is never one.
 */
export function sliver_m2(grid: FieldGrid): number {
  return Math.min(1, (grid.cell_m * grid.cell_m) / 4);
}

/** Labels with slivers at the boundary and islands under `smallest_m2` given to the neighbour they touch most. Answers a new array. */
export function tidyLabels(grid: FieldGrid, labels: Uint8Array, smallest_m2: number): Uint8Array {
  const beside = neighbours(grid);
  const tidy = labels.slice();
  // A swallowed island joins what it touches, so every pass leaves fewer islands than it found, until one swallows none.
  for (let swallowed = true; swallowed; ) {
    swallowed = false;
    const islands = findIslands(grid, tidy, beside).filter((island) => island.area_m2 < smallest_m2);
    islands.sort((a, b) => a.area_m2 - b.area_m2);
    // Beside a swallowed island others may have grown, or be gone: they wait for the next pass, where they are measured anew.
    const stale = new Uint8Array(tidy.length);
    for (const { cells } of islands) {
      const own = tidy[cells[0]];
      if (cells.some((cell) => stale[cell])) continue;
      const winner = mostTouched(cells, own, tidy, beside);
      if (winner < 0) continue;
      for (const cell of cells) {
        tidy[cell] = winner;
        for (let k = cell * 4; k < cell * 4 + 4; k++) if (beside[k] >= 0) stale[beside[k]] = 1;
      }
      swallowed = true;
    }
  }
  const sliver = sliver_m2(grid);
  for (let cell = 0; cell < tidy.length; cell++) {
    if (grid.area[cell] >= sliver) continue;
    const host = largestNeighbour(grid, beside, cell);
    if (host >= 0) tidy[cell] = tidy[host];
  }
  return tidy;
}

/** The neighbour of a cell with the most area, −1 when it has none. */
export function largestNeighbour(grid: FieldGrid, beside: Int32Array, cell: number): number {
  let host = -1;
  for (let k = cell * 4; k < cell * 4 + 4; k++) {
    if (beside[k] >= 0 && (host < 0 || grid.area[beside[k]] > grid.area[host])) host = beside[k];
  }
  return host;
}

interface Island {
  readonly cells: readonly number[];
  readonly area_m2: number;
}

/** Cells of one label that hang together side by side. */
function findIslands(grid: FieldGrid, labels: Uint8Array, beside: Int32Array): Island[] {
  const seen = new Uint8Array(labels.length);
  const islands: Island[] = [];
  for (let first = 0; first < labels.length; first++) {
    if (seen[first]) continue;
    seen[first] = 1;
    const cells = [first];
    let area_m2 = 0;
    for (let k = 0; k < cells.length; k++) {
      area_m2 += grid.area[cells[k]];
      for (let side = cells[k] * 4; side < cells[k] * 4 + 4; side++) {
        const near = beside[side];
        if (near < 0 || seen[near] || labels[near] !== labels[first]) continue;
        seen[near] = 1;
        cells.push(near);
      }
    }
    islands.push({ cells, area_m2 });
  }
  return islands;
}

/** The other label an island shares most cell sides with; −1 when it stands alone. Ties go to the lower label. */
function mostTouched(cells: readonly number[], own: number, labels: Uint8Array, beside: Int32Array): number {
  const sides = new Uint32Array(256);
  for (const cell of cells) {
    for (let k = cell * 4; k < cell * 4 + 4; k++) {
      if (beside[k] >= 0 && labels[beside[k]] !== own) sides[labels[beside[k]]]++;
    }
  }
  let winner = -1;
  for (let label = 0; label < sides.length; label++) {
    if (sides[label] > 0 && (winner < 0 || sides[label] > sides[winner])) winner = label;
  }
  return winner;
}
