import type { FieldGrid } from '../../../engine/grid/field-grid.ts';
import type { Rgb } from '../colours/ramps.ts';
import type { Easel } from './canvas.ts';

/** Draw each cell's hatch over its colour, `lines` of it across the picture, dark on light ground and light on dark. */
export function hatchCells(
  on: Easel,
  grid: FieldGrid,
  colour: (cell: number) => Rgb | null,
  hatch: (cell: number) => number,
  lines: number,
): void {
  const { context } = on;
  const { canvas } = on.picture;
  const side = Math.max(6, Math.round(Math.max(canvas.width, canvas.height) / lines));
  const cellPixels = grid.cell_m * on.pixelsPerMetre;
  const paths = new Map<string, { kind: number; ink: string; path: Path2D }>();
  for (let cell = 0; cell < grid.area.length; cell++) {
    const kind = hatch(cell);
    const ground = colour(cell);
    if (kind === 0 || !ground) continue;
    const ink = inkOn(ground);
    const key = `${kind} ${ink}`;
    const found = paths.get(key) ?? { kind, ink, path: new Path2D() };
    paths.set(key, found);
    const left = grid.col[cell] * cellPixels;
    const top = (grid.rows - 1 - grid.row[cell]) * cellPixels;
    found.path.rect(left, top, cellPixels, cellPixels);
  }
  context.globalAlpha = 0.55;
  for (const { kind, ink, path } of paths.values()) {
    context.fillStyle = context.createPattern(hatchTile(kind, side, ink), 'repeat') as CanvasPattern;
    context.fill(path);
  }
  context.globalAlpha = 1;
}

/** Ink that shows on a ground, by its luma (Rec. 601 weights). */
function inkOn([r, g, b]: Rgb): string {
  return 0.299 * r + 0.587 * g + 0.114 * b > 118 ? '#1d2126' : '#fffdf9';
}

/** One tile of a hatch (1 rising, 2 falling, 3 dots) of side `side` pixels. */
function hatchTile(kind: number, side: number, ink: string): HTMLCanvasElement {
  const tile = document.createElement('canvas');
  tile.width = tile.height = side;
  const context = tile.getContext('2d') as CanvasRenderingContext2D;
  context.strokeStyle = context.fillStyle = ink;
  context.lineWidth = side / 11;
  if (kind === 3) {
    for (const [x, y] of [
      [0.25, 0.25],
      [0.75, 0.75],
    ]) {
      context.beginPath();
      context.arc(x * side, y * side, side / 10, 0, 2 * Math.PI);
      context.fill();
    }
    return tile;
  }
  // Three parallels, so that the corners of the tile are whole.
  for (const shift of [-side, 0, side]) {
    context.beginPath();
    if (kind === 1) {
      context.moveTo(shift - side, side * 2);
      context.lineTo(shift + side * 2, -side);
    } else {
      context.moveTo(shift - side, -side);
      context.lineTo(shift + side * 2, side * 2);
    }
    context.stroke();
  }
  return tile;
}
