import { describe, expect, it } from 'vitest';
import {
  agronomicOptimum,
  type Curve,
  economicOptimum,
  slopeAt,
  yieldAt,
} from '../../src/engine/response/curve.ts';

/**
 * Carmer & Jackobs 1965, Agronomy Journal 57:241: yield of eight corn hybrids as a·p·kᵖ, lb a hill at p plants a hill, with the optimum of each, as the R package agridat (data set carmer.density) prints them.
 * 4,000 hills an acre, 56 lb a bushel. The economic optima, 1000 plants/ac with seed at $3 a thousand and corn at $4, were worked out outside the project.
 */
// biome-ignore format: a table
const HYBRIDS: readonly (readonly [string, a: number, k: number, optimum: number, economic_k: number])[] = [
  ['Hy2xOh7', 0.781925, 0.86463, 6.875, 23.969],
  ['WF9xC103', 1.038963, 0.824798, 5.1917, 18.701],
  ['R61x187-2', 0.997528, 0.798371, 4.4409, 15.93],
  ['WF9x38-11', 1.041669, 0.825137, 5.2027, 18.746],
  ['WF9xB14', 1.06706, 0.806389, 4.6471, 16.784],
  ['C103xB14', 0.812638, 0.860442, 6.653, 23.309],
  ['Oh43xB37', 0.673198, 0.862122, 6.7404, 23.012],
  ['WF9xH60', 0.858323, 0.854454, 6.3576, 22.425],
];
const HILLS_K = 4;

describe.each(HYBRIDS)('%s of Carmer and Jackobs', (_, a, k, optimum, economic_k) => {
  const perHill = 1 / -Math.log(k);
  const curve: Curve = {
    family: 'density-decay',
    level: (((a * perHill) / Math.E) * 1000 * HILLS_K) / 56,
    stand: HILLS_K * perHill,
    bend: NaN,
  };
  const r = 3 / 4;

  it('has the yields of its formula and the printed optimum', () => {
    for (const p of [2, 4, 6, 8])
      expect(yieldAt(curve, HILLS_K * p)).toBeCloseTo((a * p * k ** p * 1000 * HILLS_K) / 56, 9);
    // Printed to four decimals, from a k of six.
    expect(Math.abs(agronomicOptimum(curve) / HILLS_K - optimum)).toBeLessThan(3e-4);
  });

  it('pays best where Newton says so too', () => {
    const best = economicOptimum(curve, r);
    expect(Math.abs(best - economic_k)).toBeLessThan(1e-3);
    const b = 1 / curve.stand;
    const first = (curve.level * Math.E) / curve.stand;
    let p = 0.8 / b;
    for (let step = 0; step < 60; step++)
      p -= (Math.exp(-b * p) * (1 - b * p) - r / first) / (Math.exp(-b * p) * (b * b * p - 2 * b));
    expect(best).toBeCloseTo(p, 9);
    expect(slopeAt(curve, best)).toBeCloseTo(r, 9);
  });
});
