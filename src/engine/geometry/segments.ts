import type { Ring } from './ring.ts';

/** How two edges lie: `cross` by more than the tolerance on both, `touch` within it, or `apart`. */
type Meeting = 'cross' | 'touch' | 'apart';

/** Steps of the clipper's grid in a metre. */
export const STEPS_PER_M = 1e4;
/** Below one step, in metres, two points are one. */
export const GRID_M = 1 / STEPS_PER_M;

/** How edge `i` of ring `a` and edge `j` of ring `b` meet, edges named by their first vertex. */
export function meeting(a: Ring, i: number, b: Ring, j: number): Meeting {
  const ax = a[2 * i];
  const ay = a[2 * i + 1];
  const iNext = (2 * i + 2) % a.length;
  const bx = a[iNext];
  const by = a[iNext + 1];
  const cx = b[2 * j];
  const cy = b[2 * j + 1];
  const jNext = (2 * j + 2) % b.length;
  const dx = b[jNext];
  const dy = b[jNext + 1];
  if (farApart(ax, bx, cx, dx) || farApart(ay, by, cy, dy)) return 'apart';
  const distC = lineDistance(ax, ay, bx, by, cx, cy);
  const distD = lineDistance(ax, ay, bx, by, dx, dy);
  if ((distC > GRID_M && distD > GRID_M) || (distC < -GRID_M && distD < -GRID_M)) return 'apart';
  const distA = lineDistance(cx, cy, dx, dy, ax, ay);
  const distB = lineDistance(cx, cy, dx, dy, bx, by);
  if ((distA > GRID_M && distB > GRID_M) || (distA < -GRID_M && distB < -GRID_M)) return 'apart';
  if (distA * distB < 0 && distC * distD < 0) {
    const least = Math.min(Math.abs(distA), Math.abs(distB), Math.abs(distC), Math.abs(distD));
    return least > GRID_M ? 'cross' : 'touch';
  }
  const near =
    pointToSegment(ax, ay, bx, by, cx, cy) <= GRID_M ||
    pointToSegment(ax, ay, bx, by, dx, dy) <= GRID_M ||
    pointToSegment(cx, cy, dx, dy, ax, ay) <= GRID_M ||
    pointToSegment(cx, cy, dx, dy, bx, by) <= GRID_M;
  return near ? 'touch' : 'apart';
}

/** Whether two spans of one axis, given by their ends, lie further apart than the tolerance. */
function farApart(a: number, b: number, c: number, d: number): boolean {
  return Math.max(a, b) + GRID_M < Math.min(c, d) || Math.max(c, d) + GRID_M < Math.min(a, b);
}

/** Distance in metres of a point from the segment from (ax, ay) to (bx, by). */
export function pointToSegment(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  px: number,
  py: number,
): number {
  const ux = bx - ax;
  const uy = by - ay;
  const length2 = ux * ux + uy * uy;
  const t = length2 > 0 ? Math.max(0, Math.min(1, ((px - ax) * ux + (py - ay) * uy) / length2)) : 0;
  return Math.hypot(px - ax - t * ux, py - ay - t * uy);
}

/** Signed distance of a point from the line through a and b, left positive; from a itself when they are one. */
function lineDistance(ax: number, ay: number, bx: number, by: number, px: number, py: number): number {
  const ux = bx - ax;
  const uy = by - ay;
  const length = Math.hypot(ux, uy);
  if (length === 0) return Math.hypot(px - ax, py - ay);
  return (ux * (py - ay) - uy * (px - ax)) / length;
}
