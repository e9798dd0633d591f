import type { Region } from '../geometry/ring.ts';
import { Refusal } from '../issue.ts';
import { cellAreas } from './cell-areas.ts';
import type { FieldGrid } from './field-grid.ts';
import { turnRegion, turnTo } from './turn.ts';

/** A cell whose share of a square is under this holds nothing but rounding (areas are exact to about 1e-12 of a square). */
const NOTHING = 1e-10;

/** 30 ft: twelve rows of 30 inches, a common planter. */
const COMMON_CELL_M = 9.144;
const MOST_CELLS = 60_000;

/** Squares of the box, in the field or not, that memory surely holds; 30 km at the common cell need 11 million. */
const MOST_SQUARES = 25_000_000;

/** The cell side to use when the plan does not say: 30 ft, doubled until the field has at most 60,000 cells. */
export function commonCell_m(area_m2: number): number {
  let cell = COMMON_CELL_M;
  while (area_m2 / (cell * cell) > MOST_CELLS) cell *= 2;
  return cell;
}

/**
 * The grid of a field (region in the field frame, m): cells of side `cell_m` along `heading_deg`, each with its exact area inside
 * the field. The box is set so that the field sits in the middle of it. Refuses `grid-too-fine` over 25 million squares.
 */
export function layOutGrid(region: Region, cell_m: number, heading_deg: number): FieldGrid {
  const turn = turnTo(heading_deg);
  const turned = turnRegion(turn, region);
  const [uMin, vMin, uMax, vMax] = bounds(turned);
  const cols = Math.max(1, Math.ceil((uMax - uMin) / cell_m - NOTHING));
  const rows = Math.max(1, Math.ceil((vMax - vMin) / cell_m - NOTHING));
  if (cols * rows > MOST_SQUARES) {
    throw new Refusal({
      code: 'grid-too-fine',
      where: 'grid',
      found: `${cols} by ${rows} cells of ${cell_m} m`,
      expected: `at most ${MOST_SQUARES} squares over the whole extent of the field`,
      effect: 'There is no grid to work on',
      remedy: 'Set a larger cell, or leave out parts of the field that lie far away',
    });
  }
  const u0 = (uMin + uMax - cols * cell_m) / 2;
  const v0 = (vMin + vMax - rows * cell_m) / 2;
  const areas = cellAreas(turned, { u0, v0, cell: cell_m, cols, rows });

  const least = NOTHING * cell_m * cell_m;
  const at = new Int32Array(cols * rows).fill(-1);
  let count = 0;
  for (let k = 0; k < at.length; k++) if (areas[k] > least) at[k] = count++;
  const col = new Int32Array(count);
  const row = new Int32Array(count);
  const area = new Float64Array(count);
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  for (let k = 0; k < at.length; k++) {
    const cell = at[k];
    if (cell < 0) continue;
    col[cell] = k % cols;
    row[cell] = Math.floor(k / cols);
    area[cell] = areas[k];
    const u = u0 + (col[cell] + 0.5) * cell_m;
    const v = v0 + (row[cell] + 0.5) * cell_m;
    x[cell] = u * turn.cos + v * turn.sin;
    y[cell] = -u * turn.sin + v * turn.cos;
  }
  return { cell_m, heading_deg, u0, v0, cols, rows, col, row, area, x, y, at };
}

/** The cell that holds a point of the field frame, −1 where there is none. */
export function cellAt(grid: FieldGrid, x: number, y: number): number {
  const turn = turnTo(grid.heading_deg);
  const col = Math.floor((x * turn.cos - y * turn.sin - grid.u0) / grid.cell_m);
  const row = Math.floor((x * turn.sin + y * turn.cos - grid.v0) / grid.cell_m);
  if (!(col >= 0 && row >= 0 && col < grid.cols && row < grid.rows)) return -1;
  return grid.at[row * grid.cols + col];
}

function bounds(region: Region): [number, number, number, number] {
  const box: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { outer } of region) {
    for (let i = 0; i < outer.length; i += 2) {
      box[0] = Math.min(box[0], outer[i]);
      box[1] = Math.min(box[1], outer[i + 1]);
      box[2] = Math.max(box[2], outer[i]);
      box[3] = Math.max(box[3], outer[i + 1]);
    }
  }
  return box;
}
