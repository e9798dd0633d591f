import { incompleteBeta } from './incomplete-beta.ts';

/** Chance of an F beyond this with `above` and `below` degrees of freedom. */
export function fUpperTail(f: number, above: number, below: number): number {
  if (!(above > 0 && below > 0) || Number.isNaN(f)) return NaN;
  if (f <= 0) return 1;
  if (f === Infinity) return 0;
  const weight = above * f;
  return incompleteBeta(below / (below + weight), below / 2, above / 2, weight / (below + weight));
}

/** The F beyond which share `tail` lies, by halving on its logarithm. */
export function fCritical(tail: number, above: number, below: number): number {
  if (!(tail >= 0 && tail <= 1) || !(above > 0 && below > 0)) return NaN;
  if (tail === 1) return 0;
  if (tail === 0) return Infinity;
  let [low, high] = [-700, 700];
  for (let k = 0; k < 200 && high - low > 1e-15 * Math.max(1, Math.abs(low)); k++) {
    const middle = (low + high) / 2;
    if (fUpperTail(Math.exp(middle), above, below) > tail) low = middle;
    else high = middle;
  }
  return Math.exp((low + high) / 2);
}
