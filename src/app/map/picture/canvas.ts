import type { Region } from '../../../engine/geometry/ring.ts';
import type { FieldGrid } from '../../../engine/grid/field-grid.ts';
import { turnRegion, turnTo } from '../../../engine/grid/turn.ts';

/** A picture to lay on the map: its pixels, and its corners in the field frame (top left, then clockwise). */
export interface Picture {
  readonly canvas: HTMLCanvasElement;
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** A canvas in the grid's turned axes. `left` and `top` are where its pixels begin, turned metres. */
export interface Easel {
  readonly context: CanvasRenderingContext2D;
  readonly pixelsPerMetre: number;
  readonly left: number;
  readonly top: number;
  readonly picture: Picture;
}

/** How fine a picture is drawn: a good deal finer than it is shown only makes its hatch shimmer. */
export interface Fineness {
  /** Pixels of the longer side, at most. */
  readonly longestSide: number;
  /** Hatch lines across the longer side. */
  readonly hatchLines: number;
}

const MOST_PIXELS_A_CELL = 16;

/** An empty picture over the grid, `margin_m` wider all round, a whole number of pixels a cell. */
export function easel(grid: FieldGrid, fineness: Fineness, margin_m = 0): Easel {
  const extra = Math.ceil(margin_m / grid.cell_m);
  const cols = grid.cols + 2 * extra;
  const rows = grid.rows + 2 * extra;
  const perCell = Math.max(
    1,
    Math.min(MOST_PIXELS_A_CELL, Math.floor(fineness.longestSide / Math.max(cols, rows))),
  );
  const canvas = document.createElement('canvas');
  canvas.width = cols * perCell;
  canvas.height = rows * perCell;
  const left = grid.u0 - extra * grid.cell_m;
  const bottom = grid.v0 - extra * grid.cell_m;
  const right = left + cols * grid.cell_m;
  const top = bottom + rows * grid.cell_m;
  const turn = turnTo(grid.heading_deg);
  const u = [left, right, right, left];
  const v = [top, top, bottom, bottom];
  return {
    context: canvas.getContext('2d') as CanvasRenderingContext2D,
    pixelsPerMetre: perCell / grid.cell_m,
    left,
    top,
    picture: {
      canvas,
      x: Float64Array.from(u, (value, k) => value * turn.cos + v[k] * turn.sin),
      y: Float64Array.from(u, (value, k) => -value * turn.sin + v[k] * turn.cos),
    },
  };
}

/** The path of a region (field frame) on the easel; fill or clip it with `evenodd`. */
export function regionPath(on: Easel, region: Region, heading_deg: number): Path2D {
  const path = new Path2D();
  for (const { outer, holes } of turnRegion(turnTo(heading_deg), region)) {
    for (const ring of [outer, ...holes]) {
      for (let i = 0; i < ring.length; i += 2) {
        const px = (ring[i] - on.left) * on.pixelsPerMetre;
        const py = (on.top - ring[i + 1]) * on.pixelsPerMetre;
        if (i === 0) path.moveTo(px, py);
        else path.lineTo(px, py);
      }
      path.closePath();
    }
  }
  return path;
}
