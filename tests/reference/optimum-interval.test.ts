import { describe, expect, it } from 'vitest';
import { fittedResponse } from '../../src/engine/lineup/fitted-response.ts';
import type { ProductResponse } from '../../src/engine/lineup/product-response.ts';
import { optimumInterval, yieldInterval } from '../../src/engine/lineup/response-interval.ts';
import { leastSquares } from '../../src/engine/math/least-squares.ts';
import { tQuantile } from '../../src/engine/math/student-t.ts';
import { bestStandOf } from '../../src/engine/response/fit/best-stand.ts';
import { isRefused } from '../../src/engine/response/fit/family-fit.ts';
import { fitFamily } from '../../src/engine/response/fit/fit-family.ts';
import { profileInterval } from '../../src/engine/response/fit/profile-interval.ts';
import type { Plots } from '../../src/engine/response/plots.ts';
import { missing, openData } from '../formats/open-data.ts';

const file = 'trials/bachmaier.nitrogen.csv';

/** y = a + bp − cp² by least squares, as a response: its figures' covariance follows from that of a, b and c by their slopes. */
function responseOf(rows: readonly (readonly [p: number, y: number])[]): ProductResponse {
  const p = Float64Array.from(rows, (row) => row[0]);
  const y = Float64Array.from(rows, (row) => row[1]);
  const fit = leastSquares([p.map(() => 1), p, p.map((own) => own * own)], y);
  const [a, b, negative] = fit.coefficients;
  const c = -negative;
  const s2 = fit.rss / fit.df;
  // Of level, stand and bend by a, b and −c.
  const slopes = [
    [1, b / (2 * c), (b * b) / (4 * c * c)],
    [0, 1 / (2 * c), b / (2 * c * c)],
    [0, 0, -1],
  ];
  const covariance = (i: number, j: number) => {
    let sum = 0;
    for (let k = 0; k < 3; k++)
      for (let l = 0; l < 3; l++) sum += slopes[i][k] * s2 * fit.unscaled[3 * k + l] * slopes[j][l];
    return sum;
  };
  return {
    family: 'quadratic',
    reference_buPerAc: 100,
    level_buPerAc: a + (b * b) / (4 * c),
    levelPerEnvironment: 0,
    stand_plantsPerAc: (1000 * b) / (2 * c),
    standPerEnvironment_plantsPerAc: 0,
    bend: c,
    uncertainty: {
      // biome-ignore format: a triangle
      covariance: [
        covariance(0, 0),
        0, 0,
        1000 * covariance(1, 0), 0, 1e6 * covariance(1, 1),
        0, 0, 0, 0,
        covariance(2, 0), 0, 1000 * covariance(2, 1), 0, covariance(2, 2),
      ],
      df: fit.df,
      plotSd_buPerAc: Math.sqrt(s2),
      siteSd_buPerAc: 0,
    },
  };
}

/**
 * Bachmaier & Gandorfer 2009, Precision Agriculture 10:95, winter wheat and nitrogen in two zones, as in the R package agridat (data set bachmaier.nitrogen), which
 * prints the economic optimum of each zone with its 95 % interval for nitrogen at 0.60 a kg and grain at 110 a t. A kg of nitrogen stands for a thousand plants here.
 */
describe.skipIf(missing(file))(`open data ${file}`, () => {
  const rows = (zone: string) =>
    new TextDecoder()
      .decode(openData(file).bytes)
      .trim()
      .split('\n')
      .slice(1)
      .map((line) => line.split(','))
      .filter((row) => row[2].trim() === zone)
      .map((row) => [Number(row[0]), Number(row[1])] as const);

  it.each([
    ['low', 199.08, 173, 260],
    ['high', 239.76, 204, 328],
  ])('the economic optimum of the %s zone is %s, between %s and %s', (zone, value, low, high) => {
    const found = optimumInterval(responseOf(rows(zone)), 100, 0.6 / 110);
    // Printed to two decimals, of a price ratio that is itself rounded.
    expect(Math.abs(found!.value - value)).toBeLessThan(0.01);
    // Printed to the whole kg.
    expect(Math.round(found!.low)).toBe(low);
    expect(Math.round(found!.high)).toBe(high);
  });

  it('the interval of the mean yield is that of the straight formula', () => {
    const own = rows('low');
    const response = responseOf(own);
    const p = Float64Array.from(own, (row) => row[0]);
    const fit = leastSquares(
      [p.map(() => 1), p, p.map((x) => x * x)],
      Float64Array.from(own, (row) => row[1]),
    );
    for (const at of [0, 90, 210, 250]) {
      const x = [1, at, at * at];
      const mean = x.reduce((sum, own, k) => sum + own * fit.coefficients[k], 0);
      let variance = 0;
      for (let k = 0; k < 3; k++)
        for (let l = 0; l < 3; l++) variance += x[k] * fit.unscaled[3 * k + l] * x[l];
      const half = tQuantile(0.975, fit.df) * Math.sqrt((variance * fit.rss) / fit.df);
      const found = yieldInterval(response, 100, at)!;
      expect(found.value).toBeCloseTo(mean, 9);
      expect(found.high - found.value).toBeCloseTo(half, 6);
    }
  });
});

const carmer = 'trials/carmer.density.csv';
/**
 * Carmer & Jackobs 1965, Agronomy Journal 57:241: eight hybrids at four stands each (R package agridat), and the 95 % interval of the best stand by the profile of R's nls, y = l·p/s·exp(1 − p/s): confint of MASS with R 4.2.2. Of
 * C103xB14 R gives no upper end.
 */
describe.skipIf(missing(carmer))(`open data ${carmer}`, () => {
  const rows = new TextDecoder()
    .decode(openData(carmer).bytes)
    .trim()
    .split(/\r?\n/)
    .slice(1)
    .map((line) => line.split(','));
  it.each([
    ['Hy2x0h7', 6.328853, 7.531208],
    ['WF9xC103', 3.927455, 7.7541],
    ['R61x187-2', 3.490149, 6.113095],
    ['WF9x38-11', 5.008858, 5.412768],
    ['WF9xB14', 3.820538, 5.939297],
    ['0h43xB37', 4.349635, 16.6277],
    ['WF9xH60', 5.352166, 7.863462],
  ])('%s has its best stand between %s and %s', (gen, low, high) => {
    const own = rows.filter((row) => row[0] === gen);
    const plots: Plots = {
      stand_k: Float64Array.from(own, (row) => Number(row[1])),
      yield_buPerAc: Float64Array.from(own, (row) => Number(row[2])),
      site: new Uint32Array(own.length),
      environment_buPerAc: new Float64Array(own.length).fill(NaN),
    };
    const fit = fitFamily(plots, 'density-decay', 100);
    if (isRefused(fit)) throw new Error(fit.refused);
    const over = profileInterval(fit, bestStandOf('density-decay', 0, 0));
    // R draws its profile through a dozen points.
    const width = high - low;
    expect(Math.abs(over.low - low) / width).toBeLessThan(0.004);
    expect(Math.abs(over.high - high) / width).toBeLessThan(0.004);
    // By what the lineup keeps, of two degrees of freedom; by slopes 0.02 to 0.5 of the width apart.
    const kept = optimumInterval(fittedResponse(fit), 100, 0, { min: 2000, max: 8000 })!;
    expect(Math.abs(kept.low - low) / width).toBeLessThan(0.02);
    expect(Math.abs(kept.high - high) / width).toBeLessThan(0.02);
  });
});

describe('the interval of an optimum the plots hardly show', () => {
  const around = (yields: readonly number[]) =>
    responseOf(yields.map((y, k) => [20 + 5 * (k % 5), y] as const));
  it('is open where the curve may be no curve at all', () => {
    const found = optimumInterval(around([180, 184, 189, 191, 195, 178, 187, 186, 194, 193]), 100, 0)!;
    expect(found.low).toBeGreaterThan(20);
    expect(found.high).toBe(Infinity);
  });
  it('is not given where nobody said how sure the curve is', () => {
    const sure = around([180, 190, 193, 191, 185, 179, 188, 195, 192, 183]);
    expect(optimumInterval({ ...sure, uncertainty: null }, 100, 0)).toBeNull();
    expect(yieldInterval({ ...sure, uncertainty: null }, 100, 30)).toBeNull();
  });
});
