import { describe, expect, it } from 'vitest';
import { zoneOption } from '../../src/engine/rates/zone-option.ts';
import { agronomicOptimum, type Curve, economicOptimum, yieldAt } from '../../src/engine/response/curve.ts';
import { isRefused } from '../../src/engine/response/fit/family-fit.ts';
import { fitFamily } from '../../src/engine/response/fit/fit-family.ts';
import { product } from '../engine/lineup/small-lineup.ts';
import { missing, openData } from '../formats/open-data.ts';

/**
 * Carmer & Jackobs 1965, Agronomy Journal 57:241: yield a·p·kᵖ in pounds a hill, p plants a hill, of eight hybrids on 4,000 hills an acre, with the best p; a, k and best p as the R package
 * agridat gives them with its data set carmer.density. Stands of highest return at $3 a thousand seeds and corn at $4, and yields at both stands, were computed outside the project by Newton's method and Lambert's W.
 */
const CARMER: readonly (readonly [
  name: string,
  a: number,
  k: number,
  best: number,
  aopd_k: number,
  eopd_k: number,
])[] = [
  ['Hy2xOh7', 0.781925, 0.86463, 6.875, 27.5, 23.969],
  ['WF9xC103', 1.038963, 0.824798, 5.1917, 20.767, 18.701],
  ['R61x187-2', 0.997528, 0.798371, 4.4409, 17.763, 15.93],
  ['WF9x38-11', 1.041669, 0.825137, 5.2027, 20.811, 18.746],
  ['WF9xB14', 1.06706, 0.806389, 4.6471, 18.588, 16.784],
  ['C103xB14', 0.812638, 0.860442, 6.653, 26.612, 23.309],
  ['Oh43xB37', 0.673198, 0.862122, 6.7404, 26.962, 23.012],
  ['WF9xH60', 0.858323, 0.854454, 6.3576, 25.43, 22.425],
];
const HILLS_K = 4;
const LB_PER_BU = 56;

/** y = a·p·kᵖ by hill as a curve by acre: 4,000 hills, 56 lb. */
function carmerCurve(a: number, k: number): Curve {
  const best = -1 / Math.log(k);
  return {
    family: 'density-decay',
    level: ((a * best) / Math.E) * ((1000 * HILLS_K) / LB_PER_BU),
    stand: best * HILLS_K,
    bend: NaN,
  };
}

/** The economic stand by Newton's method on (1 − bp)·exp(−bp) = r / a from p = 0.8 / b, thousand plants/ac. */
function byNewton(a: number, b: number, r: number): number {
  let p = 0.8 / b;
  for (let k = 0; k < 50; k++) {
    const power = Math.exp(-b * p);
    p -= (power * (1 - b * p) - r / a) / (power * (b * b * p - 2 * b));
  }
  return p;
}

describe('exponential decay of yield per plant, of eight hybrids', () => {
  const r = 3 / 4;

  it.each(CARMER)('%s', (_, a, k, best, aopd_k, eopd_k) => {
    const curve = carmerCurve(a, k);
    // Its yield is that of its hills, at any stand.
    for (const p of [2, 4, 6, 8])
      expect(yieldAt(curve, HILLS_K * p)).toBeCloseTo((a * p * k ** p * 4000) / LB_PER_BU, 9);
    // Printed to four decimals, from k of more digits than its six.
    expect(Math.abs(agronomicOptimum(curve) / HILLS_K - best)).toBeLessThan(2e-4);
    expect(agronomicOptimum(curve)).toBeCloseTo(aopd_k, 2);
    expect(economicOptimum(curve, r)).toBeCloseTo(eopd_k, 3);
    const b = -Math.log(k) / HILLS_K;
    const perThousand = (a * 1000) / LB_PER_BU;
    expect(Math.abs(economicOptimum(curve, r) - byNewton(perThousand, b, r))).toBeLessThan(1e-9);
    // Nothing is planted where plants cost more than the first of them bring; the least is a rounding over that.
    expect(economicOptimum(curve, (1 + 1e-12) * perThousand)).toBe(0);
    expect(economicOptimum(curve, 0.999 * perThousand)).toBeGreaterThan(0);
  });

  it('Hy2xOh7 yields 141.26 bu at most and 139.99 at its best return of $488.05', () => {
    const [, a, k] = CARMER[0];
    const { level, stand } = carmerCurve(a, k);
    expect(level).toBeCloseTo(141.26, 2);
    const own = product({
      tested_plantsPerAc: { min: 8000, max: 32_000 },
      response: {
        family: 'density-decay',
        level_buPerAc: level,
        stand_plantsPerAc: 1000 * stand,
        bend: null,
      },
    });
    const option = zoneOption(
      own,
      0,
      200,
      { grainPrice_perBu: 4, dryingHauling_perBu: 0, emergence: 1 },
      { step_seedsPerAc: 1, lowest_seedsPerAc: 0, highest_seedsPerAc: null },
    );
    expect(option).toMatchObject({ seedsPerAc: 23_969, bound: [] });
    expect(option?.yield_buPerAc).toBeCloseTo(139.99, 2);
    expect(option?.marginPerAc).toBeCloseTo(488.05, 2);
  });
});

/** The plots of an open file as those of one site. */
function plotsOf(path: string, stand: string, yields: string) {
  const [head, ...rows] = new TextDecoder()
    .decode(openData(path).bytes)
    .trim()
    .split(/\r?\n/)
    .map((line) => line.split(','));
  const column = (name: string) => Float64Array.from(rows, (row) => Number(row[head.indexOf(name)]));
  return {
    stand_k: column(stand),
    yield_buPerAc: column(yields),
    site: new Uint32Array(rows.length),
    environment_buPerAc: new Float64Array(rows.length).fill(NaN),
  };
}

const parks = 'trials/parks1982_soybean_density.csv';
/** Parks et al. 1982, Tennessee Agricultural Experiment Station Bulletin 615: soybean g/m² by plants/m², four row widths pooled; R's nls gives 83.58215 x / (1 + 0.1828067 x). */
describe.skipIf(missing(parks))(`open data ${parks}`, () => {
  it('lies along a line of the reciprocal yield per plant as nls finds it', () => {
    const fit = fitFamily(plotsOf(parks, 'Population', 'Yield_g_m2'), 'holliday', 400);
    if (isRefused(fit)) throw new Error(fit.refused);
    const [level, , half] = fit.figures;
    expect(level / half).toBeCloseTo(83.5821521, 2);
    expect(1 / half).toBeCloseTo(0.1828067, 5);
    // As the bulletin's pooled line was printed: 83.5831 x / (1 + 0.1828 x).
    expect(level / half / 83.5831).toBeCloseTo(1, 4);
    expect(1 / half).toBeCloseTo(0.1828, 4);
  });
});

const gomez = 'trials/gomez.seedrate.csv';
/** Yields by seed rate of the data set gomez.seedrate of the R package agridat, in its units; R's lm puts the top of the quadratic at 29.148. */
describe.skipIf(missing(gomez))(`open data ${gomez}`, () => {
  it('has its best rate at 29.148', () => {
    const fit = fitFamily(plotsOf(gomez, 'rate', 'yield'), 'quadratic', 5000);
    if (isRefused(fit)) throw new Error(fit.refused);
    expect(fit.figures[2]).toBeCloseTo(29.148, 6);
    expect(fit.figures[4]).toBeCloseTo(0.0357142857, 9);
  });
});
