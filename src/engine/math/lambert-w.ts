/**
 * The principal branch W₀ of Lambert's function: the w ≥ −1 with w·eʷ = x, for x ≥ −1/e; NaN below. Corless, Gonnet, Hare, Jeffrey & Knuth 1996, Advances in
 * Computational Mathematics 5:329: the series at the branch point (4.22) or logarithms to start, then Halley's steps (5.9).
 */
export function lambertW0(x: number): number {
  // 1 + e·x, of which nothing may be lost near the branch point.
  const over = x * Math.E + 1;
  if (!(over >= -1e-15)) return NaN;
  if (over <= 0) return -1;
  if (x === 0 || x === Infinity) return x;
  let w = start(x, over);
  for (let k = 0; k < 40; k++) {
    const power = Math.exp(w);
    const off = w * power - x;
    const step = off / (power * (w + 1) - ((w + 2) * off) / (2 * w + 2));
    if (!Number.isFinite(step)) break;
    w -= step;
    if (Math.abs(step) <= 1e-15 * (1 + Math.abs(w))) break;
  }
  return w;
}

function start(x: number, over: number): number {
  if (x < 0.5) {
    const p = Math.sqrt(2 * over);
    return -1 + p * (1 - p * (1 / 3 - p * (11 / 72)));
  }
  const first = Math.log(x);
  return x < 3 ? 0.6 * Math.log1p(x) + 0.1 : first - Math.log(first) * (1 - 1 / first);
}
