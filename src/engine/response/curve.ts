/**
 * Yield against stand: `y = a + b·p − c·p²`, p in 1000 plants/ac, y in bu/ac. A quadratic-plateau is the same
 * curve up to its top at `b/2c` and level beyond it.
 */
export interface Curve {
  readonly family: 'quadratic' | 'quadratic-plateau';
  readonly a: number;
  readonly b: number;
  readonly c: number;
}
