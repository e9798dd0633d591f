import type { Curve } from '../../../src/engine/response/curve.ts';

/** y = a + bp − cp² as publications give it. */
export function natural(a: number, b: number, c: number): Curve {
  return { family: 'quadratic', level: a + (b * b) / (4 * c), stand: b / (2 * c), bend: c };
}
