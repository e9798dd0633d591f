import type { FieldGrid } from '../../engine/grid/field-grid.ts';
import { cellAt } from '../../engine/grid/lay-out-grid.ts';

/** East and north of each arrow key, as seen on the map. */
const arrows: Readonly<Record<string, readonly [number, number]>> = {
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
};

const FAR = 5;

/** The cell an arrow key moves to (five cells on when `far`); from nothing, the middle of the field. Null for any other key. */
export function cellMovedTo(grid: FieldGrid, cell: number | null, key: string, far: boolean): number | null {
  const arrow = arrows[key];
  if (!arrow) return null;
  if (cell === null) return middleCell(grid);
  let at = cell;
  for (let k = 0; k < (far ? FAR : 1); k++) at = cellBeside(grid, at, arrow[0], arrow[1]);
  return at;
}

/** The next cell in a direction, over gaps (a creek) to the far side; the same cell at the field's edge. */
function cellBeside(grid: FieldGrid, cell: number, east: number, north: number): number {
  for (let reach = 1; reach < Math.max(grid.cols, grid.rows); reach++) {
    const step = reach * grid.cell_m;
    const found = cellAt(grid, grid.x[cell] + east * step, grid.y[cell] + north * step);
    if (found >= 0 && found !== cell) return found;
  }
  return cell;
}

/** The cell nearest to the field's own centre, which is the origin of its frame. */
function middleCell(grid: FieldGrid): number {
  let best = 0;
  const away = (k: number) => Math.hypot(grid.x[k], grid.y[k]);
  for (let k = 1; k < grid.area.length; k++) if (away(k) < away(best)) best = k;
  return best;
}
