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

/** Points in colour as dots, others by a mark of their own. */
export interface PointLook {
  /** Null is left out. */
  readonly dot: (point: number) => Rgb | null;
  /** SVG path of a mark in a box from −1 to 1; null for none. */
  readonly mark: (point: number) => string | null;
  readonly ink: string;
  readonly halo: string;
}

/** Points (field frame), not cut: those outside the field are part of the story. Marks lie over dots. */
export function paintPoints(
  grid: FieldGrid,
  x: Float64Array,
  y: Float64Array,
  fineness: Fineness,
  look: PointLook,
): Picture {
  const on = easel(grid, fineness, 60);
  const { context, picture } = on;
  const { canvas } = picture;
  const turn = turnTo(grid.heading_deg);
  let fieldArea = 0;
  for (const area of grid.area) fieldArea += area;
  // Dots that nearly touch at the usual density, never under three pixels.
  const spacing = Math.sqrt(fieldArea / Math.max(1, x.length)) * on.pixelsPerMetre;
  const side = Math.max(3, Math.round(0.8 * spacing));
  const pixels = new ImageData(canvas.width, canvas.height);
  const words = new Uint32Array(pixels.data.buffer);
  const size = Math.max(canvas.width, canvas.height) / (MARKS_A_HATCH * fineness.hatchLines);
  // The picture is turned with the rows; marks are not.
  const upright = { a: size * turn.cos, b: -size * turn.sin, c: size * turn.sin, d: size * turn.cos };
  const marks = new Map<string, Path2D>();
  const shapes = new Map<string, Path2D>();
  for (let k = 0; k < x.length; k++) {
    const px = (x[k] * turn.cos - y[k] * turn.sin - on.left) * on.pixelsPerMetre;
    const py = (on.top - x[k] * turn.sin - y[k] * turn.cos) * on.pixelsPerMetre;
    const mark = look.mark(k);
    if (mark === null) {
      const found = look.dot(k);
      if (found) fillSquare(words, canvas, Math.round(px - side / 2), Math.round(py - side / 2), side, found);
      continue;
    }
    if (!Number.isFinite(px) || !Number.isFinite(py)) continue;
    const shape = shapes.get(mark) ?? new Path2D(mark);
    shapes.set(mark, shape);
    const all = marks.get(mark) ?? new Path2D();
    marks.set(mark, all);
    all.addPath(shape, { ...upright, e: px, f: py });
  }
  context.putImageData(pixels, 0, 0);
  context.lineJoin = context.lineCap = 'round';
  // Bars, rings and crosses keep their shape over any ground by a halo of it.
  for (const [colour, width] of [
    [look.halo, 1.1],
    [look.ink, 0.48],
  ] as const) {
    context.strokeStyle = colour;
    context.lineWidth = width * size;
    for (const all of marks.values()) context.stroke(all);
  }
  return picture;
}

/** Half a mark against a line of hatch: as small as its shape can be told on the screen it is for. */
const MARKS_A_HATCH = 3.5;

function fillSquare(
  words: Uint32Array,
  { width, height }: { readonly width: number; readonly height: number },
  left: number,
  top: number,
  side: number,
  [r, g, b]: Rgb,
): void {
  // Bytes of a pixel stand red first; every machine a browser runs on counts them from the small end.
  const word = (255 << 24) | (b << 16) | (g << 8) | r;
  for (let py = Math.max(0, top); py < Math.min(height, top + side); py++) {
    const from = py * width + Math.max(0, left);
    const to = py * width + Math.min(width, left + side);
    if (to > from) words.fill(word, from, to);
  }
}
