import { ringsOf } from './clipper.ts';
import { extentOf } from './extent.ts';
import type { Region } from './ring.ts';

/**
 * A test of whether a point in metres lies inside a region, even-odd, for many points: edges are filed by the rows of
 * height they pass, and a point looks only at those of its row. A point exactly on a border may fall either way; one
 * that is not finite is outside.
 */
export function regionLocator(region: Region): (x: number, y: number) => boolean {
  const rings = ringsOf(region);
  const { minX, minY, maxX, maxY } = extentOf(rings);
  const edges = edgesOf(region);
  const count = edges.length / 4;
  const height = maxY - minY;
  if (count === 0 || !(height > 0)) return () => false;

  // As many rows as keep the files to some five entries an edge, however tall the edges are.
  let climb = 0;
  for (let e = 0; e < edges.length; e += 4) climb += Math.abs(edges[e + 3] - edges[e + 1]);
  const rows = Math.max(1, Math.min(count, Math.floor((4 * count * height) / climb)));
  const rowOf = (y: number) => Math.min(rows - 1, Math.max(0, Math.floor(((y - minY) / height) * rows)));

  const start = new Int32Array(rows + 1);
  const eachRow = (visit: (row: number, edge: number) => void) => {
    for (let e = 0; e < edges.length; e += 4) {
      const low = rowOf(Math.min(edges[e + 1], edges[e + 3]));
      const high = rowOf(Math.max(edges[e + 1], edges[e + 3]));
      for (let row = low; row <= high; row++) visit(row, e);
    }
  };
  eachRow((row) => {
    start[row + 1]++;
  });
  for (let row = 0; row < rows; row++) start[row + 1] += start[row];
  const next = start.slice();
  const filed = new Int32Array(start[rows]);
  eachRow((row, edge) => {
    filed[next[row]++] = edge;
  });

  return (x, y) => {
    if (!(x >= minX && x <= maxX && y >= minY && y <= maxY)) return false;
    const row = rowOf(y);
    let inside = false;
    for (let k = start[row]; k < start[row + 1]; k++) {
      const e = filed[k];
      if (edges[e + 1] > y === edges[e + 3] > y) continue;
      const t = (y - edges[e + 1]) / (edges[e + 3] - edges[e + 1]);
      if (x < edges[e] + t * (edges[e + 2] - edges[e])) inside = !inside;
    }
    return inside;
  };
}

/** 1 for points inside the region, 0 for others. */
export function pointsInside(region: Region, x: Float64Array, y: Float64Array): Uint8Array {
  const isInside = regionLocator(region);
  const inside = new Uint8Array(x.length);
  for (let i = 0; i < x.length; i++) inside[i] = isInside(x[i], y[i]) ? 1 : 0;
  return inside;
}

/** All edges of a region, flat: x0, y0, x1, y1 of each. */
function edgesOf(region: Region): Float64Array {
  const rings = ringsOf(region);
  const edges = new Float64Array(2 * rings.reduce((sum, ring) => sum + ring.length, 0));
  let at = 0;
  for (const ring of rings) {
    for (let i = 0; i + 1 < ring.length; i += 2) {
      const next = (i + 2) % ring.length;
      edges[at++] = ring[i];
      edges[at++] = ring[i + 1];
      edges[at++] = ring[next];
      edges[at++] = ring[next + 1];
    }
  }
  return edges;
}
