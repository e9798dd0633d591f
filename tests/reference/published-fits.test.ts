import { describe, expect, it } from 'vitest';
import { leastSquares } from '../../src/engine/math/least-squares.ts';
import type { FamilyId } from '../../src/engine/response/family.ts';
import { bestStandOf } from '../../src/engine/response/fit/best-stand.ts';
import { type FamilyFit, isRefused } from '../../src/engine/response/fit/family-fit.ts';
import { BEND, LEVEL, STAND } from '../../src/engine/response/fit/figures.ts';
import { fitFamily } from '../../src/engine/response/fit/fit-family.ts';
import { profileInterval } from '../../src/engine/response/fit/profile-interval.ts';
import { missing, openData } from '../formats/open-data.ts';
import { nafziger, nafzigerStands } from './nafziger.ts';

/** Plots of stand, yield and group (site or block), no environment told. */
function fitOf(
  rows: readonly (readonly [p: number, y: number, group: number])[],
  family: FamilyId,
): FamilyFit {
  const fit = fitFamily(
    {
      stand_k: Float64Array.from(rows, (row) => row[0]),
      yield_buPerAc: Float64Array.from(rows, (row) => row[1]),
      site: Uint32Array.from(rows, (row) => row[2]),
      environment_buPerAc: new Float64Array(rows.length).fill(NaN),
    },
    family,
    100,
  );
  if (isRefused(fit)) throw new Error(fit.refused);
  return fit;
}

const read = (file: string) =>
  new TextDecoder()
    .decode(openData(file).bytes)
    .trim()
    .split(/\r?\n/)
    .slice(1)
    .map((line) => line.split(','));

/** Nafziger 1994, J. Production Agriculture 7:59, fourteen stands by thirteen dates. */
describe('the table of Nafziger', () => {
  const rows = nafziger.flatMap(([day, ...percent]) =>
    percent.map((y, k) => ({ day, p: nafzigerStands[k], y })),
  );
  const known = rows.filter(({ y }) => !Number.isNaN(y));
  const terms = (of: typeof rows) =>
    [
      () => 1,
      ({ day }: { day: number }) => day,
      ({ day }: { day: number }) => day * day,
      ({ p }: { p: number }) => p,
      ({ p }: { p: number }) => p * p,
      ({ day, p }: { day: number; p: number }) => day * p,
    ].map((term) => Float64Array.from(of, term as (row: (typeof rows)[number]) => number));

  it('is a quadratic surface that says what two misprints should be', () => {
    const fit = leastSquares(
      terms(known),
      Float64Array.from(known, ({ y }) => y),
    );
    // Worked out outside the project: .296, where rounding to the percent alone leaves .289.
    expect(Math.sqrt(fit.rss / fit.df)).toBeCloseTo(0.296, 2);
    const lost = rows.filter(({ y }) => Number.isNaN(y));
    const columns = terms(lost);
    const said = lost.map((_, i) =>
      columns.reduce((sum, column, k) => sum + column[i] * fit.coefficients[k], 0),
    );
    expect(said.map((own) => own.toFixed(1))).toEqual(['76.1', '85.0']);
  });

  it('has its best stand at 30,330 plants/ac, dates being chance, its misprints not counted', () => {
    const dates = nafziger.map(([day]) => day);
    const fit = fitOf(
      rows.map(({ day, p, y }) => [p, y, dates.indexOf(day)] as const),
      'quadratic',
    );
    // 30.329 with dates fitted by a parabola.
    expect(Math.abs(fit.figures[STAND] - 30.33)).toBeLessThan(0.01);
    expect(fit.figures[BEND]).toBeCloseTo(0.0774, 3);
    expect(fit.trial.leftOut.withoutStand).toBe(2);
    expect(fit.doubts.join(' ')).toContain('2 plots are without a stand or a yield not counted');
  });
});

/** Michigan State University Extension, Maximizing returns on soybean seed investments: means of fifteen trials; the optima worked out outside the project. */
it('the five means of Michigan put the best stand beyond what was tried, and say so', () => {
  const means = [40.395, 43.86, 44.87, 44.795, 46.875];
  const fit = fitOf(
    means.map((y, k) => [80 + 40 * k, y, 0] as const),
    'quadratic',
  );
  expect(bestStandOf('quadratic', 0, 0)(fit.figures)).toBeCloseTo(260.9, 1);
  // Seed at $45 for 140,000, beans at $12.90.
  expect(bestStandOf('quadratic', 0, 45 / 140 / 12.9)(fit.figures)).toBeCloseTo(188.5, 1);
  expect(fit.doubts.join(' ')).toMatch(
    /best stand, 260,900 plants\/ac, lies beyond the tested 80,000 to 240,000/,
  );
  // Five means cannot say where it is: the stand that pays is open above.
  expect(profileInterval(fit, bestStandOf('quadratic', 0, 0)).high).toBe(Infinity);
});

const gomez = 'trials/gomez.seedrate.csv';
/** Gomez & Gomez 1984, Statistical Procedures for Agricultural Research, 2nd ed.: rice at six seed rates in four blocks; the R package agridat gives the top of its quadratic as 29.148 kg/ha. */
it.skipIf(missing(gomez))(
  `open data ${gomez} has its top where it was published, blocks being chance`,
  () => {
    const fit = fitOf(
      read(gomez).map(
        ([rate, block, y]) => [Number(rate), Number(y), Number(block.replace(/\D/g, ''))] as const,
      ),
      'quadratic',
    );
    expect(fit.figures[STAND]).toBeCloseTo(29.148, 3);
    expect(fit.trial.sites).toBe(4);
  },
);

const parks = 'trials/parks1982_soybean_density.csv';
/** Parks et al. 1982, University of Tennessee Agricultural Experiment Station Bulletin 615: all row widths together, yield = 83.5831 x / (1 + 0.1828 x). */
it.skipIf(missing(parks))(`open data ${parks} is the reciprocal that was published`, () => {
  const fit = fitOf(
    read(parks).map((row) => [Number(row[2]), Number(row[3]), 0] as const),
    'holliday',
  );
  // Four printed digits.
  expect(Math.abs(1 / fit.figures[STAND] / 0.1828 - 1)).toBeLessThan(3e-4);
  expect(Math.abs(fit.figures[LEVEL] / fit.figures[STAND] / 83.5831 - 1)).toBeLessThan(3e-5);
});

const bachmaier = 'trials/bachmaier.nitrogen.csv';
/** Bachmaier & Gandorfer 2009, Precision Agriculture 10:95: nitrogen that pays in two zones with its 95 % interval, nitrogen at 0.60 a kg and grain at 110 a t (R package agridat). */
describe.skipIf(missing(bachmaier))(`open data ${bachmaier}`, () => {
  it.each([
    ['low', 199.08, 173, 260],
    ['high', 239.76, 204, 328],
  ])(
    'in the %s zone pays best at %s, %s to %s, by the profile of the likelihood',
    (zone, value, low, high) => {
      const rows = read(bachmaier)
        .filter((row) => row[2].trim() === zone)
        // A stand of none is no stand; of next to none it is.
        .map((row) => [Math.max(1e-9, Number(row[0])), Number(row[1]), 0] as const);
      const found = profileInterval(fitOf(rows, 'quadratic'), bestStandOf('quadratic', 0, 0.6 / 110));
      expect(Math.abs(found.value - value)).toBeLessThan(0.01);
      expect([Math.round(found.low), Math.round(found.high)]).toEqual([low, high]);
    },
  );
});

const carmer = 'trials/carmer.density.csv';
/**
 * Carmer & Jackobs 1965, Agronomy Journal 57:241: yield a·p·kᵖ of eight hybrids at four stands. a and k as the R package agridat (data set carmer.density) has them by least squares of the yields themselves; the line
 * of ln(y / p) on p, which counts errors as shares of the yield, gives others.
 */
describe.skipIf(missing(carmer))(`open data ${carmer}`, () => {
  const published = [
    ['Hy2x0h7', 0.781925, 0.86463],
    ['WF9xC103', 1.038963, 0.824798],
    ['R61x187-2', 0.997528, 0.798371],
    ['WF9x38-11', 1.041669, 0.825137],
    ['WF9xB14', 1.06706, 0.806389],
    ['C103xB14', 0.812638, 0.860442],
    ['0h43xB37', 0.673198, 0.862122],
    ['WF9xH60', 0.858323, 0.854454],
  ] as const;
  it.each(published)(
    '%s is as published by squares of the yields, and elsewhere on the scale of logarithms',
    (gen, a, k) => {
      const rows = read(carmer)
        .filter((row) => row[0] === gen)
        .map((row) => [Number(row[1]), Number(row[2]), 0] as const);
      expect(rows).toHaveLength(4);
      const fit = fitOf(rows, 'density-decay');
      const own_k = Math.exp(-1 / fit.figures[STAND]);
      // Printed to six decimals.
      expect(Math.abs(own_k - k)).toBeLessThan(1.1e-6);
      expect(Math.abs((fit.figures[LEVEL] * Math.E) / fit.figures[STAND] - a)).toBeLessThan(1.1e-6);
      const p = Float64Array.from(rows, (row) => row[0]);
      const line = leastSquares(
        [p.map(() => 1), p],
        Float64Array.from(rows, (row) => Math.log(row[1] / row[0])),
      );
      const apart = Math.abs(Math.exp(line.coefficients[1]) / k - 1);
      expect(apart).toBeGreaterThan(1e-4);
      expect(apart).toBeLessThan(0.03);
    },
  );
});
