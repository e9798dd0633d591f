import type { Outline, Point } from './design.ts';

/** Signed area, m²; positive when counter-clockwise. */
export function signedArea(outline: Outline): number {
  let twice = 0;
  for (let i = 0; i < outline.length; i++) {
    const [u1, v1] = outline[i];
    const [u2, v2] = outline[(i + 1) % outline.length];
    twice += u1 * v2 - u2 * v1;
  }
  return twice / 2;
}

/** Corner cutting of a closed outline (Chaikin 1974): every corner becomes two, `times` over. */
export function smoothed(outline: Outline, times: number): Outline {
  let points = outline;
  for (let k = 0; k < times; k++) {
    points = points.flatMap((a, i): Point[] => {
      const b = points[(i + 1) % points.length];
      return [between(a, b, 0.25), between(a, b, 0.75)];
    });
  }
  return points;
}

export function between([u1, v1]: Point, [u2, v2]: Point, share: number): Point {
  return [u1 + (u2 - u1) * share, v1 + (v2 - v1) * share];
}

/** Whether a point lies inside, by the number of edges east of it. */
export function contains(outline: Outline, u: number, v: number): boolean {
  let inside = false;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const [ui, vi] = outline[i];
    const [uj, vj] = outline[j];
    if (vi > v !== vj > v && u < ((uj - ui) * (v - vi)) / (vj - vi) + ui) inside = !inside;
  }
  return inside;
}

/**
 * Stretches of a straight line inside the rings, in order: the line where coordinate `axis` (0 u, 1 v) is `at`, each
 * stretch as the two values of the other coordinate. Inside is an odd number of rings.
 */
export function stretchesOf(rings: readonly Outline[], axis: 0 | 1, at: number): [number, number][] {
  const along = 1 - axis;
  const cuts: number[] = [];
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const a = ring[j][axis];
      const b = ring[i][axis];
      if (a > at === b > at) continue;
      cuts.push(ring[j][along] + ((ring[i][along] - ring[j][along]) * (at - a)) / (b - a));
    }
  }
  cuts.sort((a, b) => a - b);
  return Array.from({ length: cuts.length >> 1 }, (_, i) => [cuts[2 * i], cuts[2 * i + 1]]);
}

export function boxOf(points: readonly Point[]): { u0: number; v0: number; u1: number; v1: number } {
  const box = { u0: Infinity, v0: Infinity, u1: -Infinity, v1: -Infinity };
  for (const [u, v] of points) {
    box.u0 = Math.min(box.u0, u);
    box.v0 = Math.min(box.v0, v);
    box.u1 = Math.max(box.u1, u);
    box.v1 = Math.max(box.v1, v);
  }
  return box;
}
