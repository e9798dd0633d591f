import { ringsOf } from './clipping.ts';
import type { Part, Point } from './design.ts';
import { boxOf, stretchesOf } from './outline.ts';

/** Standing crop on squares of one metre: what a pass has cut, no other pass cuts again. */
interface Coverage {
  /**
   * Cut the swath swept from `a` to `b` at width `width_m` and return the share of it that still stood.
   * `pass` may go over its own ground, so that squares its samples share are not counted against it.
   */
  cut(a: Point, b: Point, width_m: number, pass: number): number;
}

const ACROSS = 9;

export function coverageOf(parts: readonly Part[]): Coverage {
  const rings = ringsOf(parts);
  const box = boxOf(rings.flat());
  const u0 = Math.floor(box.u0) - 1;
  const v0 = Math.floor(box.v0) - 1;
  const cols = Math.ceil(box.u1) - u0 + 2;
  const rows = Math.ceil(box.v1) - v0 + 2;
  /** −1 outside the field, 0 standing, else the pass that cut it. */
  const cutBy = new Int32Array(cols * rows).fill(-1);
  for (let r = 0; r < rows; r++) {
    // A square belongs to the field when its centre does.
    for (const [from, to] of stretchesOf(rings, 1, v0 + r + 0.5)) {
      cutBy.fill(0, r * cols + Math.round(from - u0), r * cols + Math.round(to - u0));
    }
  }
  return {
    cut(a, b, width_m, pass) {
      const du = b[0] - a[0];
      const dv = b[1] - a[1];
      const length = Math.hypot(du, dv);
      if (length === 0) return 0;
      const along = Math.max(1, Math.ceil(length));
      let fresh = 0;
      for (let i = 0; i < along; i++) {
        for (let j = 0; j < ACROSS; j++) {
          const side = (((j + 0.5) / ACROSS - 0.5) * width_m) / length;
          const u = a[0] + (du * (i + 0.5)) / along + side * dv;
          const v = a[1] + (dv * (i + 0.5)) / along - side * du;
          const square = Math.floor(v - v0) * cols + Math.floor(u - u0);
          if (cutBy[square] !== 0 && cutBy[square] !== pass) continue;
          cutBy[square] = pass;
          fresh++;
        }
      }
      return fresh / (along * ACROSS);
    },
  };
}
