import { describe, expect, it } from 'vitest';
import type { ProductResponse } from '../../src/engine/lineup/product-response.ts';
import { optimumInterval, yieldInterval } from '../../src/engine/lineup/response-interval.ts';
import { leastSquares } from '../../src/engine/math/least-squares.ts';
import { tQuantile } from '../../src/engine/math/student-t.ts';
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
