import type { Region } from '../geometry/ring.ts';

/** A box of unit squares: `cols × rows` cells of side `cell` from (u0, v0). */
export interface CellBox {
  readonly u0: number;
  readonly v0: number;
  readonly cell: number;
  readonly cols: number;
  readonly rows: number;
}

/**
 * Exact area of a region in every cell of a box, m², row by row (`row·cols + col`); what lies outside the box is not counted.
 * Green's theorem taken cell by cell: every edge adds, to each cell it crosses, the area to its right inside that cell, and to all
 * cells right of it in the row the full width. One pass over the edges, one over the cells; nothing is clipped and the cells add
 * up to the shoelace area to rounding. (The method of exact-coverage scan conversion used for drawing type.)
 * `region` is in the axes of the box, outer rings counter-clockwise, holes clockwise.
 */
export function cellAreas(region: Region, box: CellBox): Float64Array {
  const { cols, rows } = box;
  // One column more than the box: what an edge adds to the right of the last column falls there.
  const inside = new Float64Array((cols + 1) * rows);
  const rightward = new Float64Array((cols + 1) * rows);
  for (const polygon of region) {
    for (const ring of [polygon.outer, ...polygon.holes]) {
      const n = ring.length;
      for (let i = 0; i < n; i += 2) {
        const j = i + 2 === n ? 0 : i + 2;
        addEdge(
          (ring[i] - box.u0) / box.cell,
          (ring[i + 1] - box.v0) / box.cell,
          (ring[j] - box.u0) / box.cell,
          (ring[j + 1] - box.v0) / box.cell,
        );
      }
    }
  }
  const areas = new Float64Array(cols * rows);
  const square = box.cell * box.cell;
  for (let row = 0; row < rows; row++) {
    let carried = 0;
    for (let col = 0; col < cols; col++) {
      const at = row * (cols + 1) + col;
      areas[row * cols + col] = (carried + inside[at]) * square;
      carried += rightward[at];
    }
  }
  return areas;

  /** Cut an edge at the rows it crosses and hand on each piece. */
  function addEdge(u1: number, v1: number, u2: number, v2: number): void {
    if (v1 === v2) return;
    const up = v2 > v1;
    const [lowU, lowV, highU, highV] = up ? [u1, v1, u2, v2] : [u2, v2, u1, v1];
    // The interior lies left of an edge, so an edge going down has it on its right.
    const sign = up ? -1 : 1;
    const slope = (highU - lowU) / (highV - lowV);
    const from = Math.max(0, Math.floor(lowV));
    const to = Math.min(rows - 1, Math.ceil(highV) - 1);
    for (let row = from; row <= to; row++) {
      const a = Math.max(lowV, row);
      const b = Math.min(highV, row + 1);
      if (b <= a) continue;
      // Interpolate from the nearer end and stay between both: no cell beyond the edge is touched by rounding.
      const ua = a === lowV ? lowU : clampBetween(lowU + (a - lowV) * slope, lowU, highU);
      const ub = b === highV ? highU : clampBetween(highU - (highV - b) * slope, lowU, highU);
      addInRow(row, ua, ub, b - a, sign);
    }
  }

  /** A piece within one row, rising by `rise` while u goes from `ua` to `ub`: share it out to the columns it crosses. */
  function addInRow(row: number, ua: number, ub: number, rise: number, sign: number): void {
    const [left, right] = ua < ub ? [ua, ub] : [ub, ua];
    const base = row * (cols + 1);
    const first = Math.floor(left);
    const last = right === left ? first : Math.ceil(right) - 1;
    if (first === last || right === left) {
      put(base, first, sign * rise, (left + right) / 2 - first);
      return;
    }
    const perU = rise / (right - left);
    for (let col = first; col <= last; col++) {
      const a = Math.max(left, col);
      const b = Math.min(right, col + 1);
      put(base, col, sign * (b - a) * perU, (a + b) / 2 - col);
    }
  }

  /** `amount` of signed rise in column `col`, at mean distance `from` from the column's left side. */
  function put(base: number, col: number, amount: number, from: number): void {
    if (col >= cols) return;
    if (col < 0) {
      // Left of the box: the whole row lies to its right.
      inside[base] += amount;
      rightward[base] += amount;
      return;
    }
    inside[base + col] += amount * (1 - from);
    rightward[base + col] += amount;
  }
}

function clampBetween(value: number, a: number, b: number): number {
  return a < b ? Math.min(Math.max(value, a), b) : Math.min(Math.max(value, b), a);
}
