import { type Crs, crsToLonLat } from '../geodesy/crs.ts';
import { type FieldFrame, toFrame, toLonLat } from '../geodesy/field-frame.ts';
import { convexArea, convexInBox } from '../geometry/convex-in-box.ts';
import type { FieldGrid, Surface } from '../grid/field-grid.ts';
import { turnBack, turnTo } from '../grid/turn.ts';
import { type PixelRange, pixelsOver } from './pixels-over.ts';
import type { Raster } from './source.ts';

export interface RasterMeans {
  readonly values: Surface;
  /** Area of each whole cell under pixels with a known value, m². */
  readonly support: Float64Array;
  /** 1 for pixels that have some of a cell and a known value. */
  readonly used: Uint8Array;
}

/**
 * Corners are projected this far apart and drawn straight between: over 64 m the ground bends away from a straight line of any usual projection by
 * 64²/(8 · 6.4e6) m times a factor of a few, under a millimetre.
 */
const STRAIGHT_M = 64;
const MARGIN_PIXELS = 2;

/**
 * Mean of a raster in each cell, pixels weighted by the exact area they share with the whole cell: each pixel is the quadrilateral of its four
 * corners, projected into the field frame and clipped to the cells it meets. A pixel that is not known (NaN) has no weight. NaN where known
 * pixels cover less than half of what the cell has of the field. Where cells are made of whole pixels a sloping plane comes out exactly; where cell edges
 * cut pixels it is off by at most half a pixel's rise. `values` is a column of the raster, `crs` its system.
 */
export function rasterMeans(
  grid: FieldGrid,
  frame: FieldFrame,
  raster: Raster,
  crs: Crs,
  values: Float64Array,
): RasterMeans {
  const sum = new Float64Array(grid.area.length);
  const held = new Float64Array(grid.area.length);
  const used = new Uint8Array(values.length);
  const range = windowOverGrid(grid, frame, raster, crs);
  if (range) addPixels(range);
  const square = grid.cell_m * grid.cell_m;
  return {
    values: sum.map((total, cell) =>
      held[cell] * square >= 0.5 * grid.area[cell] ? total / held[cell] : Number.NaN,
    ),
    support: held.map((share) => share * square),
    used,
  };

  function addPixels({ col, row, width, height }: PixelRange): void {
    const corners = cornerRows(grid, frame, raster, crs, { col, row, width, height });
    let above = corners(0);
    const quad = new Float64Array(8);
    const clip = convexInBox(4);
    for (let r = 0; r < height; r++) {
      const below = corners(r + 1);
      const first = (row + r) * raster.width + col;
      for (let k = 0; k < width; k++) {
        const value = values[first + k];
        if (Number.isNaN(value)) continue;
        quad[0] = above.u[k];
        quad[1] = above.v[k];
        quad[2] = above.u[k + 1];
        quad[3] = above.v[k + 1];
        quad[4] = below.u[k + 1];
        quad[5] = below.v[k + 1];
        quad[6] = below.u[k];
        quad[7] = below.v[k];
        if (addPixel(quad, value, clip)) used[first + k] = 1;
      }
      above = below;
    }
  }

  /** `quad` in cells from the corner of the grid's box. Answers whether a cell has some of it. */
  function addPixel(quad: Float64Array, value: number, clip: ReturnType<typeof convexInBox>): boolean {
    const left = Math.min(quad[0], quad[2], quad[4], quad[6]);
    const right = Math.max(quad[0], quad[2], quad[4], quad[6]);
    const low = Math.min(quad[1], quad[3], quad[5], quad[7]);
    const high = Math.max(quad[1], quad[3], quad[5], quad[7]);
    // A corner without a place on Earth makes these NaN.
    if (!(right > 0 && high > 0 && left < grid.cols && low < grid.rows)) return false;
    const firstCol = Math.max(0, Math.floor(left));
    const lastCol = Math.min(grid.cols, Math.ceil(right)) - 1;
    const firstRow = Math.max(0, Math.floor(low));
    const lastRow = Math.min(grid.rows, Math.ceil(high)) - 1;
    if (firstCol + 1 >= right && firstCol <= left && firstRow + 1 >= high && firstRow <= low) {
      return add(grid.at[firstRow * grid.cols + firstCol], convexArea(quad, 4), value);
    }
    let some = false;
    clip.load(quad, 4);
    for (let row = firstRow; row <= lastRow; row++) {
      clip.band(row, row + 1);
      for (let col = firstCol; col <= lastCol; col++) {
        const cell = grid.at[row * grid.cols + col];
        if (cell >= 0 && add(cell, clip.areaBetween(col, col + 1), value)) some = true;
      }
    }
    return some;
  }

  function add(cell: number, share: number, value: number): boolean {
    if (cell < 0 || share === 0) return false;
    sum[cell] += share * value;
    held[cell] += share;
    return true;
  }
}

/** The pixels over the box of the grid; its outline is taken at 17 places a side. */
function windowOverGrid(grid: FieldGrid, frame: FieldFrame, raster: Raster, crs: Crs): PixelRange | null {
  const along = Array.from({ length: 17 }, (_, i) => i / 16);
  const sides = along.flatMap((t): [number, number][] => [
    [t, 0],
    [t, 1],
    [0, t],
    [1, t],
  ]);
  const back = turnBack(turnTo(grid.heading_deg));
  const x = new Float64Array(sides.length);
  const y = new Float64Array(sides.length);
  sides.forEach(([s, t], i) => {
    const u = grid.u0 + s * grid.cols * grid.cell_m;
    const v = grid.v0 + t * grid.rows * grid.cell_m;
    x[i] = u * back.cos - v * back.sin;
    y[i] = u * back.sin + v * back.cos;
  });
  const { lon, lat } = toLonLat(frame, x, y);
  return pixelsOver(raster, crs, lon, lat, MARGIN_PIXELS);
}

interface CornerRow {
  readonly u: Float64Array;
  readonly v: Float64Array;
}

/**
 * The pixel corners of one row of a range after another, in cells from the corner of the grid's box (u to the right of the heading, v along it).
 * Projected every few pixels, linear between. Two rows are kept: the last one and the one asked for.
 */
function cornerRows(
  grid: FieldGrid,
  frame: FieldFrame,
  raster: Raster,
  crs: Crs,
  { col, row, width, height }: PixelRange,
): (r: number) => CornerRow {
  const turn = turnTo(grid.heading_deg);
  const project = (cols: Float64Array, rows: Float64Array): CornerRow => {
    const [a, b, c, d, e, f] = raster.transform;
    const { lon, lat } = crsToLonLat(
      crs,
      cols.map((own, i) => a * own + b * rows[i] + c),
      cols.map((own, i) => d * own + e * rows[i] + f),
    );
    const { x, y } = toFrame(frame, lon, lat);
    return {
      u: x.map((own, i) => (own * turn.cos - y[i] * turn.sin - grid.u0) / grid.cell_m),
      v: x.map((own, i) => (own * turn.sin + y[i] * turn.cos - grid.v0) / grid.cell_m),
    };
  };
  const { u, v } = project(Float64Array.of(col, col + 1, col), Float64Array.of(row, row, row + 1));
  const pixel_m =
    grid.cell_m * Math.max(Math.hypot(u[1] - u[0], v[1] - v[0]), Math.hypot(u[2] - u[0], v[2] - v[0]));
  const step = Math.max(1, Math.floor(STRAIGHT_M / pixel_m) || 1);
  const nodes = Math.ceil(width / step) + 1;
  const at = Float64Array.from({ length: nodes }, (_, i) => col + i * step);
  const nodeRow = (j: number) => project(at, new Float64Array(nodes).fill(row + j * step));
  let line = 0;
  let [upper, lower] = [nodeRow(0), nodeRow(1)];
  const rows: [CornerRow, CornerRow] = [emptyRow(width + 1), emptyRow(width + 1)];
  return (r) => {
    const needed = Math.min(Math.floor(r / step), Math.ceil(height / step) - 1);
    if (needed > line) {
      [upper, lower] = [lower, nodeRow(needed + 1)];
      line = needed;
    }
    const down = r / step - line;
    const out = rows[r % 2];
    for (let k = 0; k <= width; k++) {
      const i = Math.min(Math.floor(k / step), nodes - 2);
      const across = k / step - i;
      out.u[k] = between(upper.u, lower.u, i, across, down);
      out.v[k] = between(upper.v, lower.v, i, across, down);
    }
    return out;
  };
}

function emptyRow(n: number): CornerRow {
  return { u: new Float64Array(n), v: new Float64Array(n) };
}

/** Bilinear between four nodes. */
function between(upper: Float64Array, lower: Float64Array, i: number, across: number, down: number): number {
  const top = upper[i] + across * (upper[i + 1] - upper[i]);
  const low = lower[i] + across * (lower[i + 1] - lower[i]);
  return top + down * (low - top);
}
