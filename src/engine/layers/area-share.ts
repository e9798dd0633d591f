import type { Region } from '../geometry/ring.ts';
import { cellAreas } from '../grid/cell-areas.ts';
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
  const turn = turnTo(grid.heading_deg);
  for (const piece of pieces) {
    if (Number.isNaN(piece.value)) continue;
    const areas = cellAreas(turnRegion(turn, piece.region), { ...grid, cell: grid.cell_m });
    for (let cell = 0; cell < sum.length; cell++) {
      const area = areas[grid.row[cell] * grid.cols + grid.col[cell]];
      sum[cell] += area * piece.value;
      held[cell] += area;
    }
  }
  return sum.map((total, cell) => (held[cell] >= 0.5 * grid.area[cell] ? total / held[cell] : NaN));
}
