import type { Region } from '../../../engine/geometry/ring.ts';
import type { FieldGrid } from '../../../engine/grid/field-grid.ts';
import { turnTo } from '../../../engine/grid/turn.ts';
import { css, type Rgb } from '../colours/ramps.ts';
import { easel, type Fineness, type Picture, regionPath } from './canvas.ts';
import { hatchCells } from './hatch.ts';

/**
 * Cells as a picture, cut along the field's edge. `colour` gives a cell's colour, or null where nothing is known (left
 * clear); `hatch` gives its hatch, 0 for none.
 */
export function paintCells(
  grid: FieldGrid,
  region: Region,
  fineness: Fineness,
  colour: (cell: number) => Rgb | null,
  hatch: ((cell: number) => number) | null = null,
): Picture {
  const on = easel(grid, fineness);
  const { context, picture } = on;
  const { canvas } = picture;
  const small = document.createElement('canvas');
  small.width = grid.cols;
  small.height = grid.rows;
  const pixels = new ImageData(grid.cols, grid.rows);
  for (let cell = 0; cell < grid.area.length; cell++) {
    const found = colour(cell);
    if (!found) continue;
    const at = ((grid.rows - 1 - grid.row[cell]) * grid.cols + grid.col[cell]) * 4;
    pixels.data.set(found, at);
    pixels.data[at + 3] = 255;
  }
  small.getContext('2d')?.putImageData(pixels, 0, 0);
  context.clip(regionPath(on, region, grid.heading_deg), 'evenodd');
  context.imageSmoothingEnabled = false;
  context.drawImage(small, 0, 0, canvas.width, canvas.height);
  if (hatch) hatchCells(on, grid, colour, hatch, fineness.hatchLines);
  return picture;
}

/** Regions as a picture, cut along the field's edge. */
export function paintRegions(
  grid: FieldGrid,
  field: Region,
  regions: readonly Region[],
  fineness: Fineness,
  colour: (index: number) => Rgb,
): Picture {
  const on = easel(grid, fineness);
  on.context.clip(regionPath(on, field, grid.heading_deg), 'evenodd');
  regions.forEach((region, index) => {
    on.context.fillStyle = css(colour(index));
    on.context.fill(regionPath(on, region, grid.heading_deg), 'evenodd');
  });
  return on.picture;
}

/** Points (field frame) as dots, not cut: those outside the field are part of the story. A null colour is left out. */
export function paintPoints(
  grid: FieldGrid,
  x: Float64Array,
  y: Float64Array,
  fineness: Fineness,
  colour: (point: number) => Rgb | null,
): Picture {
  const on = easel(grid, fineness, 60);
  const turn = turnTo(grid.heading_deg);
  let fieldArea = 0;
  for (const area of grid.area) fieldArea += area;
  // Dots that nearly touch at the usual density, never under three pixels.
  const side = Math.max(3, 0.8 * Math.sqrt(fieldArea / Math.max(1, x.length)) * on.pixelsPerMetre);
  for (let k = 0; k < x.length; k++) {
    const found = colour(k);
    if (!found) continue;
    const u = x[k] * turn.cos - y[k] * turn.sin;
    const v = x[k] * turn.sin + y[k] * turn.cos;
    on.context.fillStyle = css(found);
    on.context.fillRect(
      (u - on.left) * on.pixelsPerMetre - side / 2,
      (on.top - v) * on.pixelsPerMetre - side / 2,
      side,
      side,
    );
  }
  return on.picture;
}
