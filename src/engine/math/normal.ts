const ROOT_TWO_PI = Math.sqrt(2 * Math.PI);

/** Share of the standard normal under z. Series near the middle, continued fraction in the tails (Abramowitz & Stegun 1964, 26.2.10 and 26.2.14). */
export function normalCdf(z: number): number {
  if (Number.isNaN(z)) return NaN;
  const x = Math.abs(z);
  const density = Math.exp(-x * x * 0.5) / ROOT_TWO_PI;
  const tail = x > 38 ? 0 : x > 2 ? density / fraction(x) : 0.5 - series(x) * density;
  return z < 0 ? tail : 1 - tail;
}

/** z under which share p of the standard normal lies; ∓Infinity at 0 and 1, NaN beyond. */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) return NaN;
  if (p === 0 || p === 1) return p === 0 ? -Infinity : Infinity;
  if (p > 0.5) return -normalQuantile(1 - p);
  // A rough start (Abramowitz & Stegun 1964, 26.2.23), then Newton's steps with Halley's correction.
  const t = Math.sqrt(-2 * Math.log(p));
  let z = -(
    t -
    (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)))
  );
  for (let k = 0; k < 4; k++) {
    const off = ((normalCdf(z) - p) * ROOT_TWO_PI) / Math.exp(-z * z * 0.5);
    if (!Number.isFinite(off)) break;
    z -= off / (1 + (z * off) / 2);
  }
  return z;
}

/** (Φ(x) − ½) / φ(x) */
function series(x: number): number {
  let term = x;
  let sum = x;
  for (let k = 3; Math.abs(term) > 1e-18 * sum && k < 400; k += 2) {
    term *= (x * x) / k;
    sum += term;
  }
  return sum;
}

/** φ(x) / (1 − Φ(x)) */
function fraction(x: number): number {
  let value = x;
  for (let k = 120; k > 0; k--) value = x + k / value;
  return value;
}
