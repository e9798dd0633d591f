/** Draw one tile of a hatch (1 rising, 2 falling, 3 dots) of side `side` pixels. */
export function hatchTile(kind: number, side: number, ink: string): HTMLCanvasElement {
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
