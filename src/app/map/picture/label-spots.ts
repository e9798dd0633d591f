import type { FieldGrid } from '../../../engine/grid/field-grid.ts';

/** Where to write about a patch: the cell deepest inside it, and how large the patch is. */
export interface LabelSpot {
  readonly cell: number;
  readonly label: number;
  readonly area_m2: number;
}

/** A patch under this share of the field goes without a label. */
const LEAST_SHARE = 0.02;

/** One spot for every connected patch of equal labels that is large enough, largest first; labels under 0 have none. */
export function labelSpots(grid: FieldGrid, label: ArrayLike<number>): LabelSpot[] {
  const { cols, rows, at, col, row, area } = grid;
  const cells = area.length;
  const neighbour = (cell: number, dc: number, dr: number): number => {
    const c = col[cell] + dc;
    const r = row[cell] + dr;
    return c < 0 || r < 0 || c >= cols || r >= rows ? -1 : at[r * cols + c];
  };
  const same = (cell: number, other: number) => other >= 0 && label[other] === label[cell];

  // Distance to the edge of the patch in cells, by a forward and a backward pass (city-block with diagonals).
  const depth = new Int32Array(cells);
  const reach = (cell: number, ways: readonly (readonly [number, number])[], from: number) => {
    let least = from;
    for (const [dc, dr] of ways) {
      const other = neighbour(cell, dc, dr);
      least = Math.min(least, same(cell, other) ? depth[other] + 1 : 1);
    }
    depth[cell] = least;
  };
  const before = [
    [-1, 0],
    [-1, -1],
    [0, -1],
    [1, -1],
  ] as const;
  const after = [
    [1, 0],
    [1, 1],
    [0, 1],
    [-1, 1],
  ] as const;
  for (let cell = 0; cell < cells; cell++) reach(cell, before, 1 << 20);
  for (let cell = cells - 1; cell >= 0; cell--) reach(cell, after, depth[cell]);

  let whole = 0;
  for (const value of area) whole += value;
  const seen = new Uint8Array(cells);
  const spots: LabelSpot[] = [];
  for (let start = 0; start < cells; start++) {
    if (seen[start] || label[start] < 0) continue;
    let best = start;
    let size = 0;
    const open = [start];
    seen[start] = 1;
    while (open.length > 0) {
      const cell = open.pop() as number;
      size += area[cell];
      if (depth[cell] > depth[best]) best = cell;
      for (const [dc, dr] of [...before, ...after]) {
        if (dc !== 0 && dr !== 0) continue;
        const other = neighbour(cell, dc, dr);
        if (same(cell, other) && !seen[other]) {
          seen[other] = 1;
          open.push(other);
        }
      }
    }
    if (size >= LEAST_SHARE * whole) spots.push({ cell: best, label: label[start], area_m2: size });
  }
  return spots.sort((a, b) => b.area_m2 - a.area_m2);
}
