import type { Random } from './random.ts';

/**
 * A draw of the gamma distribution with scale 1. Marsaglia & Tsang 2000, ACM Transactions on Mathematical Software 26:363; a shape under 1 by way of the next, as they say
 * there. The shape is over 0.
 */
export function drawGamma(stream: Random, shape: number): number {
  if (shape < 1) return drawGamma(stream, shape + 1) * (1 - stream.uniform()) ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = stream.normal();
    const v = (1 + c * x) ** 3;
    // 1 − uniform is never 0.
    if (v > 0 && Math.log(1 - stream.uniform()) < (x * x) / 2 + d - d * v + d * Math.log(v)) return d * v;
  }
}

/** A draw of chi-square with `df` degrees of freedom. */
export function drawChiSquare(stream: Random, df: number): number {
  return 2 * drawGamma(stream, df / 2);
}
