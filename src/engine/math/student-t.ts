import { logBeta } from './gamma.ts';
import { incompleteBeta } from './incomplete-beta.ts';
import { normalCdf, normalQuantile } from './normal.ts';

/** From here on the normal is the same to 15 digits. */
const NORMAL_FROM = 1e15;

/** Share of Student's t with `df` degrees of freedom (over 0, not whole perhaps) under t. */
export function tCdf(t: number, df: number): number {
  if (!(df > 0) || Number.isNaN(t)) return NaN;
  if (df >= NORMAL_FROM) return normalCdf(t);
  const tail = upperTail(Math.abs(t), df);
  return t < 0 ? tail : 1 - tail;
}

/** Chance of a t as far from zero as this, either way. */
export function tTwoSided(t: number, df: number): number {
  return 2 * tCdf(-Math.abs(t), df);
}

/** t under which share p lies. */
export function tQuantile(p: number, df: number): number {
  if (!(df > 0) || !(p >= 0 && p <= 1)) return NaN;
  if (p === 0 || p === 1) return p === 0 ? -Infinity : Infinity;
  if (p === 0.5) return 0;
  if (p < 0.5) return -quantileAbove(p, df);
  return quantileAbove(1 - p, df);
}

/** The t over 0 beyond which share `tail` (under ½) lies: Newton's steps on the logarithm of the tail, kept between what is known to be too low and too high. */
function quantileAbove(tail: number, df: number): number {
  if (df >= NORMAL_FROM) return -normalQuantile(tail);
  if (df === 1) return 1 / Math.tan(Math.PI * tail);
  let low = 0;
  let high = Infinity;
  let t = firstGuess(tail, df);
  for (let k = 0; k < 200; k++) {
    const own = upperTail(t, df);
    if (own > tail) low = t;
    else high = t;
    const next = t + ((Math.log(own) - Math.log(tail)) * own) / density(t, df);
    const kept = next > low && next < high ? next : high === Infinity ? 2 * t : (low + high) / 2;
    if (Math.abs(kept - t) <= 1e-15 * Math.abs(kept)) return kept;
    t = kept;
  }
  return t;
}

/** From the normal by Fisher & Cornish 1960 (Abramowitz & Stegun 1964, 26.7.5), from the law of the tail where few degrees make that too low. */
function firstGuess(tail: number, df: number): number {
  const z = -normalQuantile(tail);
  const near = z + (z * z * z + z) / (4 * df) + (5 * z ** 5 + 16 * z ** 3 + 3 * z) / (96 * df * df);
  if (df >= 3) return near;
  const far = Math.exp((-Math.log(tail * df) - logBeta(df / 2, 0.5)) / df + Math.log(df) / 2);
  return Math.max(near, Number.isFinite(far) ? far : near);
}

function upperTail(t: number, df: number): number {
  const squares = t * t;
  if (squares === Infinity) return 0;
  const x = df / (df + squares);
  return incompleteBeta(x, df / 2, 0.5, squares / (df + squares)) / 2;
}

function density(t: number, df: number): number {
  return Math.exp(-((df + 1) / 2) * Math.log1p((t * t) / df) - logBeta(df / 2, 0.5)) / Math.sqrt(df);
}
