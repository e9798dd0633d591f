import { describe, expect, it } from 'vitest';
import { leastSquares } from '../../src/engine/math/least-squares.ts';
import { fitSeparable } from '../../src/engine/math/separable-fit.ts';
import { yieldAt } from '../../src/engine/response/curve.ts';
import { FAMILIES } from '../../src/engine/response/families.ts';
import { missing, openData } from '../formats/open-data.ts';

const rowsOf = (file: string) =>
  new TextDecoder()
    .decode(openData(file).bytes)
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.split(','));

const parks = 'trials/parks1982_soybean_density.csv';
/** Parks et al. 1982, soybean at four row widths, University of Tennessee Agricultural Experiment Station Bulletin 615: pooled over rows, yield = 83.5831 x / (1 + 0.1828 x) g/m² at x plants/m². */
describe.skipIf(missing(parks))(`open data ${parks}`, () => {
  it('are the line of the reciprocal that was published', () => {
    const rows = rowsOf(parks).map((row) => row.map(Number));
    const { unit } = FAMILIES.holliday;
    const fit = fitSeparable({
      y: Float64Array.from(rows, (row) => row[3]),
      linear: 1,
      starts: [[10]],
      basis: ([stand], [share]) => {
        for (const [i, row] of rows.entries()) share[i] = unit(row[2], stand, NaN);
      },
    });
    const curve = { family: 'holliday' as const, level: fit.linear[0], stand: fit.nonlinear[0], bend: NaN };
    // Four printed digits.
    expect(curve.level / curve.stand / 83.5831).toBeCloseTo(1, 4);
    expect(1 / curve.stand).toBeCloseTo(0.1828, 4);
    expect(yieldAt(curve, 40)).toBeCloseTo((83.5831 * 40) / (1 + 0.1828 * 40), 1);
  });
});

const gomez = 'trials/gomez.seedrate.csv';
/** Gomez & Gomez 1984, Statistical Procedures for Agricultural Research, 2nd ed.: rice at six seeding rates, whose quadratic has its top at 29.148 kg/ha (as the R package agridat computes it). */
describe.skipIf(missing(gomez))(`open data ${gomez}`, () => {
  it('have their top where it was published, near the thinnest rate tried', () => {
    const rows = rowsOf(gomez);
    const rate = Float64Array.from(rows, (row) => Number(row[0]));
    const y = Float64Array.from(rows, (row) => Number(row[2]));
    const { coefficients } = leastSquares([rate.map(() => 1), rate, rate.map((own) => own * own)], y);
    expect(coefficients[1] / (-2 * coefficients[2])).toBeCloseTo(29.148, 3);
  });
});
