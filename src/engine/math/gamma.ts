/** Lanczos's approximation with g = 7 and nine terms (Godfrey 2001): 15 digits. */
const LANCZOS = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
  12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
];
const HALF_LOG_TWO_PI = Math.log(2 * Math.PI) / 2;
/** From here on Stirling's series of five terms has all digits. */
export const LARGE = 15;

/** ln Γ(x), x over zero. */
export function logGamma(x: number): number {
  if (x >= LARGE) return (x - 0.5) * Math.log(x) - x + HALF_LOG_TWO_PI + stirling(x);
  let sum = LANCZOS[0];
  for (let k = 1; k < LANCZOS.length; k++) sum += LANCZOS[k] / (x - 1 + k);
  const t = x + 6.5;
  return HALF_LOG_TWO_PI + (x - 0.5) * Math.log(t) - t + Math.log(sum);
}

/** ln B(a, b), a and b over zero. Where either is large the large terms are taken away before they swallow digits. */
export function logBeta(a: number, b: number): number {
  const [small, large] = a < b ? [a, b] : [b, a];
  if (large < LARGE) return logGamma(a) + logGamma(b) - logGamma(a + b);
  // ln Γ(large) − ln Γ(large + small)
  const ratio =
    -(large - 0.5) * Math.log1p(small / large) -
    small * Math.log(large + small) +
    small +
    stirling(large) -
    stirling(large + small);
  return logGamma(small) + ratio;
}

/** What Stirling's formula leaves of ln Γ(x) (Abramowitz & Stegun 1964, 6.1.41). */
export function stirling(x: number): number {
  const y = 1 / (x * x);
  return (1 / 12 - y * (1 / 360 - y * (1 / 1260 - y * (1 / 1680 - y / 1188)))) / x;
}
