import type { Ring } from './ring.ts';
import { GRID_M, pointToSegment } from './segments.ts';

/** Vertices nearer than this to the one before say nothing new. */
const SAME_POINT_M = 1e-6;

/** A ring without repeated vertices and spikes, and how many of each were taken out. Fewer than 3 vertices: none left. */
interface TidyRing {
  readonly ring: Ring;
  readonly duplicates: number;
  readonly spikes: number;
}

/**
 * Takes out vertices that repeat the one before (a first vertex repeated at the end is no fault and is not counted) and
 * spikes: vertices where the line turns back on itself to within the grid. Vertices on a straight line stay. The
 * vertices must be finite.
 */
export function tidyRing(ring: Ring): TidyRing {
  const closed = ring.length > 2 && ring[0] === ring.at(-2) && ring[1] === ring.at(-1);
  const count = ring.length / 2 - (closed ? 1 : 0);
  const kept: number[] = [];
  let duplicates = 0;
  let spikes = 0;
  const same = (i: number, j: number) =>
    Math.hypot(ring[2 * i] - ring[2 * j], ring[2 * i + 1] - ring[2 * j + 1]) <= SAME_POINT_M;

  // Taking out a spike can bring two equal vertices together or bare another spike, so its neighbours are looked at again.
  const settle = () => {
    while (kept.length >= 2) {
      const last = kept.length - 1;
      if (same(kept[last - 1], kept[last])) {
        kept.pop();
        duplicates++;
      } else if (last >= 2 && isSpike(ring, kept[last - 2], kept[last - 1], kept[last])) {
        kept.splice(last - 1, 1);
        spikes++;
      } else return;
    }
  };
  for (let i = 0; i < count; i++) {
    kept.push(i);
    settle();
  }
  // The same across the place where the ring closes.
  for (let changed = true; changed && kept.length >= 3; ) {
    changed = false;
    const [first, second] = kept;
    const last = kept[kept.length - 1];
    if (same(last, first)) {
      kept.pop();
      duplicates++;
      changed = true;
    } else if (isSpike(ring, kept[kept.length - 2], last, first)) {
      kept.pop();
      spikes++;
      changed = true;
    } else if (isSpike(ring, last, first, second)) {
      kept.shift();
      spikes++;
      changed = true;
    }
  }
  if (kept.length < 3) kept.length = 0;
  const tidy = new Float64Array(2 * kept.length);
  kept.forEach((vertex, i) => {
    tidy[2 * i] = ring[2 * vertex];
    tidy[2 * i + 1] = ring[2 * vertex + 1];
  });
  return { ring: tidy, duplicates, spikes };
}

/** Whether the way from `a` to `b` is walked back towards `c`: the shorter leg lies on the longer one. */
function isSpike(ring: Ring, a: number, b: number, c: number): boolean {
  const [ax, ay, bx, by] = [ring[2 * a], ring[2 * a + 1], ring[2 * b], ring[2 * b + 1]];
  const [cx, cy] = [ring[2 * c], ring[2 * c + 1]];
  const along = (ax - bx) * (cx - bx) + (ay - by) * (cy - by);
  if (along <= 0) return false;
  const back = Math.hypot(cx - bx, cy - by) < Math.hypot(ax - bx, ay - by);
  return (back ? pointToSegment(ax, ay, bx, by, cx, cy) : pointToSegment(bx, by, cx, cy, ax, ay)) <= GRID_M;
}
