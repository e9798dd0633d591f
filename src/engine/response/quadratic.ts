import type { Curve } from './curve.ts';

/** Yield at a stand of `p` thousand plants/ac, bu/ac. */
export function yieldAt(curve: Curve, p: number): number {
  const { a, b, c } = curve;
  if (curve.family === 'quadratic-plateau' && p > agronomicOptimum(curve)) return a + (b * b) / (4 * c);
  return a + b * p - c * p * p;
}

/** The stand of highest yield, thousand plants/ac: b/2c (where the plateau begins). */
export function agronomicOptimum(curve: Curve): number {
  return curve.b / (2 * curve.c);
}

/**
 * The stand of highest return, thousand plants/ac: where the last thousand plants just pay, `b − 2cp = r`, so (b − r)/2c. `r` is the
 * price of a thousand plants in bushels: seed price per 1000 / (net grain price × emergence). The same for a plateau, whose joint lies
 * beyond it whenever r > 0. Never under zero.
 */
export function economicOptimum(curve: Curve, r: number): number {
  return Math.max(0, (curve.b - r) / (2 * curve.c));
}
