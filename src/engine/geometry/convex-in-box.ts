/**
 * A measure of how much of a convex polygon lies in an upright box. `load` takes the first `n` vertices, flat (x, y, …), either way round; `band`
 * cuts it to bottom ≤ y ≤ top; `areaBetween` gives the area of that band in left ≤ x ≤ right. The buffers are made once, so a million polygons allocate nothing.
 * Method: Sutherland and Hodgman, Reentrant polygon clipping, Communications of the ACM 17 (1974) 32–42, which is exact for convex polygons.
 */
export function convexInBox(mostVertices: number) {
  // Each of the four cuts adds at most one vertex.
  const size = 2 * (mostVertices + 4);
  const whole = new Float64Array(size);
  const strip = new Float64Array(size);
  const piece = new Float64Array(size);
  const spare = new Float64Array(size);
  let vertices = 0;
  let inStrip = 0;
  return {
    load(polygon: ArrayLike<number>, n: number): void {
      vertices = n;
      for (let i = 0; i < 2 * n; i++) whole[i] = polygon[i];
    },
    band(bottom: number, top: number): void {
      inStrip = cut(spare, cut(whole, vertices, 1, bottom, 1, spare), 1, top, -1, strip);
    },
    areaBetween(left: number, right: number): number {
      const n = cut(spare, cut(strip, inStrip, 0, left, 1, spare), 0, right, -1, piece);
      return convexArea(piece, n);
    },
  };
}

/** Area of the first `n` vertices of a flat convex polygon, whichever way round. */
export function convexArea(polygon: ArrayLike<number>, n: number): number {
  let twice = 0;
  for (let i = 2; i < n; i++) {
    twice +=
      (polygon[2 * i - 2] - polygon[0]) * (polygon[2 * i + 1] - polygon[1]) -
      (polygon[2 * i] - polygon[0]) * (polygon[2 * i - 1] - polygon[1]);
  }
  return Math.abs(twice) / 2;
}

/** The part where coordinate `axis` is at least the limit (`side` 1) or at most (−1), written to `to`: its number of vertices. */
function cut(
  from: Float64Array,
  n: number,
  axis: 0 | 1,
  limit: number,
  side: 1 | -1,
  to: Float64Array,
): number {
  let kept = 0;
  for (let i = 0; i < n; i++) {
    const j = i + 1 === n ? 0 : i + 1;
    const here = side * (from[2 * i + axis] - limit);
    const next = side * (from[2 * j + axis] - limit);
    if (here >= 0) {
      to[2 * kept] = from[2 * i];
      to[2 * kept + 1] = from[2 * i + 1];
      kept++;
    }
    if (here >= 0 === next >= 0 || here === 0 || next === 0) continue;
    const share = here / (here - next);
    const other = 1 - axis;
    to[2 * kept + axis] = limit;
    to[2 * kept + other] = from[2 * i + other] + share * (from[2 * j + other] - from[2 * i + other]);
    kept++;
  }
  return kept;
}
