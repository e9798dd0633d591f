import type { BinnedPoints, SquareBox } from './bin-points.ts';

/** A search for the points nearest to a place; its answer stands in `point` and `distance2` until the next. */
export interface NearestPoints {
  /** Looks round a place of the box (in squares from its corner) and gives how many points it found, nearest first. */
  find(u: number, v: number): number;
  readonly point: Int32Array;
  /** Squares of distances, in squares of the box. */
  readonly distance2: Float64Array;
}

/** At most `most` points, none further than `reach` (in squares); of points equally far the first met is kept. */
export function nearestPoints(
  { cols, rows }: SquareBox,
  bins: BinnedPoints,
  reach: number,
  most: number,
): NearestPoints {
  const point = new Int32Array(most);
  const distance2 = new Float64Array(most);
  return { find, point, distance2 };

  function find(u: number, v: number): number {
    const ownCol = Math.floor(u);
    const ownRow = Math.floor(v);
    // From the place to the nearest side of its square.
    const margin = Math.min(u - ownCol, ownCol + 1 - u, v - ownRow, ownRow + 1 - v);
    const beyond = Math.max(ownCol, cols - 1 - ownCol, ownRow, rows - 1 - ownRow);
    const rings = Math.min(beyond, Math.floor(reach + 1 - margin));
    let count = 0;
    let limit = reach * reach;
    // Squares in rings round the place: once enough points are known, a ring that begins beyond the farthest of them ends the search.
    for (let ring = 0; ring <= rings; ring++) {
      const begins = ring - 1 + margin;
      if (count === most && limit <= begins * begins) break;
      const rowTo = Math.min(rows - 1, ownRow + ring);
      for (let row = Math.max(0, ownRow - ring); row <= rowTo; row++) {
        const step = Math.abs(row - ownRow) === ring ? 1 : 2 * ring;
        for (let col = ownCol - ring; col <= ownCol + ring; col += step) {
          if (col < 0 || col >= cols) continue;
          const to = bins.start[row * cols + col + 1];
          for (let k = bins.start[row * cols + col]; k < to; k++) {
            const i = bins.order[k];
            const du = bins.u[i] - u;
            const dv = bins.v[i] - v;
            const d2 = du * du + dv * dv;
            if (d2 > limit || (count === most && d2 === limit)) continue;
            // Insertion into the short sorted list of the nearest so far.
            let place = count < most ? count++ : most - 1;
            while (place > 0 && distance2[place - 1] > d2) {
              distance2[place] = distance2[place - 1];
              point[place] = point[place - 1];
              place--;
            }
            distance2[place] = d2;
            point[place] = i;
            if (count === most) limit = distance2[most - 1];
          }
        }
      }
    }
    return count;
  }
}
