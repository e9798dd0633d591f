/**
 * Where a curve of evenly spaced numbers peaks, in steps from its first: the vertex of the parabola through its largest number and those `reach` or less to either
 * side, by least squares. The place of the largest number where the parabola does not bend down, or peaks outside them. NaN when no number is known.
 */
export function peakOf(curve: ArrayLike<number>, reach: number): number {
  let top = -1;
  for (let k = 0; k < curve.length; k++) if (curve[k] > (top < 0 ? -Infinity : curve[top])) top = k;
  if (top < 0) return NaN;
  const from = Math.max(0, top - reach);
  const to = Math.min(curve.length - 1, top + reach);
  // Polynomials orthogonal over the stretch, t from its middle: 1, t and t² − m.
  const middle = (from + to) / 2;
  const n = to - from + 1;
  const m = (n * n - 1) / 12;
  let [slope, slopes, bend, bends] = [0, 0, 0, 0];
  for (let k = from; k <= to; k++) {
    const t = k - middle;
    const q = t * t - m;
    slope += t * curve[k];
    slopes += t * t;
    bend += q * curve[k];
    bends += q * q;
  }
  const a = bend / bends;
  const vertex = middle - slope / slopes / (2 * a);
  return a < 0 && vertex >= from && vertex <= to ? vertex : top;
}
