import { LARGE, logBeta, stirling } from './gamma.ts';

const TINY = 1e-300;
const MOST_STEPS = 100_000;

/** The regularised incomplete beta function I_x(a, b), 0 ≤ x ≤ 1, by its continued fraction (Abramowitz & Stegun 1964, 26.5.8; evaluated as Lentz 1976 does). */
export function incompleteBeta(x: number, a: number, b: number, complement = 1 - x): number {
  if (!(x > 0)) return x === 0 ? 0 : NaN;
  if (!(complement > 0)) return complement === 0 ? 1 : NaN;
  // The fraction converges fast on this side of the mean only.
  if (x > (a + 1) / (a + b + 2)) return 1 - part(complement, b, a, x);
  return part(x, a, b, complement);
}

function part(x: number, a: number, b: number, complement: number): number {
  const front = Math.exp(logPower(x, a, b, complement)) / a;
  let c = 1;
  let d = 1 / away(1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; m <= MOST_STEPS; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / away(1 + even * d);
    c = away(1 + even / c);
    fraction *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / away(1 + odd * d);
    c = away(1 + odd / c);
    const step = d * c;
    fraction *= step;
    if (Math.abs(step - 1) < 1e-16) break;
  }
  return front * fraction;
}

/** ln (xᵃ·(1 − x)ᵇ / B(a, b)). Where both are large the large terms are taken away on paper, as Loader 2000 does for the binomial. */
function logPower(x: number, a: number, b: number, complement: number): number {
  if (Math.min(a, b) < LARGE) return a * logOf(x, complement) + b * logOf(complement, x) - logBeta(a, b);
  const off = x * b - complement * a;
  const rest = stirling(a + b) - stirling(a) - stirling(b);
  const spread = Math.log(((a / (a + b)) * b) / (2 * Math.PI)) / 2;
  return a * logLess(off / a) + b * logLess(-off / b) + spread + rest;
}

/** ln(1 + u) − u; near nothing by the series of the inverse hyperbolic tangent. */
function logLess(u: number): number {
  if (Math.abs(u) > 0.1) return Math.log1p(u) - u;
  const r = u / (2 + u);
  const square = r * r;
  let sum = 0;
  for (let k = 17; k >= 3; k -= 2) sum = sum * square + 1 / k;
  return 2 * r * square * sum - u * r;
}

/** ln x, from 1 − x where that is the smaller. */
function logOf(x: number, complement: number): number {
  return complement < 0.5 ? Math.log1p(-complement) : Math.log(x);
}

function away(value: number): number {
  return Math.abs(value) < TINY ? TINY : value;
}
