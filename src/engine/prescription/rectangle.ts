import type { Polygon } from '../geometry/ring.ts';

export function rectangle(u0: number, v0: number, u1: number, v1: number): Polygon {
  return { outer: Float64Array.of(u0, v0, u1, v0, u1, v1, u0, v1), holes: [] };
}
