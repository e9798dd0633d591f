import { extentOf } from '../geometry/extent.ts';
import type { Region } from '../geometry/ring.ts';
import { type CellBox, cellAreas } from '../grid/cell-areas.ts';
import type { FieldGrid, Surface } from '../grid/field-grid.ts';
import { turnRegion, turnTo } from '../grid/turn.ts';

/** A polygon layer's value over one region (already cut to the field), field frame m. */
export interface ValuedRegion {
  readonly region: Region;
  readonly value: number;
}

/**
 * Mean of polygon values in each cell, weighted by the exact area each polygon has of the cell inside the field. NaN where polygons with
 * a known value hold less than half of the cell.
 */
export function areaShareMeans(grid: FieldGrid, pieces: readonly ValuedRegion[]): Surface {
  const sum = new Float64Array(grid.area.length);
  const held = new Float64Array(grid.area.length);
  for (const { region, value } of pieces) {
    if (Number.isNaN(value)) continue;
    eachCellUnder(grid, region, (cell, area_m2) => {
      sum[cell] += area_m2 * value;
      held[cell] += area_m2;
    });
  }
  return sum.map((total, cell) => (held[cell] >= 0.5 * grid.area[cell] ? total / held[cell] : NaN));
}

/** Every cell a region (already cut to the field) has something of, with the exact area it has of it, m². */
export function eachCellUnder(
  grid: FieldGrid,
  region: Region,
  take: (cell: number, area_m2: number) => void,
): void {
  const turned = turnRegion(turnTo(grid.heading_deg), region);
  const box = boxAround(grid, turned);
  const areas = cellAreas(turned, box);
  for (let k = 0; k < areas.length; k++) {
    if (areas[k] === 0) continue;
    const col = box.col + (k % box.cols);
    const row = box.row + Math.floor(k / box.cols);
    const cell = grid.at[row * grid.cols + col];
    if (cell >= 0) take(cell, areas[k]);
  }
}

/** The squares of the grid a region reaches: small map units are not paid for with the whole field. */
function boxAround(
  grid: FieldGrid,
  turned: Region,
): CellBox & { readonly col: number; readonly row: number } {
  const { minX, minY, maxX, maxY } = extentOf(turned.map((polygon) => polygon.outer));
  const within = (value: number, most: number) => Math.min(Math.max(value, 0), most - 1);
  const col = within(Math.floor((minX - grid.u0) / grid.cell_m), grid.cols);
  const row = within(Math.floor((minY - grid.v0) / grid.cell_m), grid.rows);
  const lastCol = within(Math.floor((maxX - grid.u0) / grid.cell_m), grid.cols);
  const lastRow = within(Math.floor((maxY - grid.v0) / grid.cell_m), grid.rows);
  return {
    col,
    row,
    u0: grid.u0 + col * grid.cell_m,
    v0: grid.v0 + row * grid.cell_m,
    cell: grid.cell_m,
    cols: lastCol - col + 1,
    rows: lastRow - row + 1,
  };
}
