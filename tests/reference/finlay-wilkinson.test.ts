import { describe, expect, it } from 'vitest';
import type { Estimate } from '../../src/engine/lineup/estimate.ts';
import { finlayWilkinson, type GroundAnswer } from '../../src/engine/lineup/finlay-wilkinson.ts';
import { belongs, groundSentences } from '../../src/engine/lineup/ground-answer-words.ts';
import { siteMeans } from '../engine/lineup/small-trials.ts';
import { missing } from '../formats/open-data.ts';
import { openTrials } from './trial-files.ts';

const kang = 'trials/kang.maize.csv';
const ars = 'trials/ars.earlywhitecorn96.csv';

/** Finlay & Wilkinson by R's lm and confint, from tests/reference/trials.R: level, slope, deviation mean square, leads on tough and good ground. */
interface Printed {
  readonly level: readonly number[];
  readonly slope: readonly number[];
  readonly meanSquare: number;
  readonly df: number;
  readonly tough: readonly number[];
  readonly good: readonly number[];
}

/** R printed twelve digits. */
function expectAsPrinted(answer: GroundAnswer, printed: Printed): void {
  const figures = ({ value, low, high }: Estimate) => [value, low, high];
  const found = [
    ...figures(answer.level),
    ...figures(answer.slope),
    answer.deviationMeanSquare,
    answer.df,
    ...figures(answer.leadOnTough),
    ...figures(answer.leadOnGood),
  ];
  const wanted = [
    ...printed.level,
    ...printed.slope,
    printed.meanSquare,
    printed.df,
    ...printed.tough,
    ...printed.good,
  ];
  for (const [k, value] of wanted.entries())
    expect(Math.abs(found[k] - value)).toBeLessThanOrEqual(5e-11 * Math.max(1, Math.abs(value)));
}

/** Kang & Gorman 1989, maize in Louisiana, t/ha: 17 products at 12 sites; as in the R package agridat. */
describe.skipIf(missing(kang))(`open data ${kang}`, () => {
  const table = () => openTrials(kang, 'env');

  it('answers to ground as R says, by the classical index', () => {
    const trials = table();
    const { products, sites } = finlayWilkinson(trials, 'corn', {
      of: 'all products',
      environments: siteMeans(trials),
    });
    expect([products.length, sites]).toEqual([17, 12]);
    expectAsPrinted(products[0], {
      level: [7.38333333333, 6.89286858481, 7.87379808186],
      slope: [0.861732354469, 0.568573019215, 1.15489168972],
      meanSquare: 0.581449953509,
      df: 10,
      tough: [0.581523563988, -0.161719782059, 1.32476691004],
      good: [0.0758299839338, -0.634446035688, 0.786106003556],
    });
    expectAsPrinted(products[8], {
      level: [7.275, 6.66159488601, 7.88840511399],
      slope: [0.777180827095, 0.410537890982, 1.14382376321],
      meanSquare: 0.909476596518,
      df: 10,
      tough: [0.634252600936, -0.29529283689, 1.56379803876],
      good: [-0.180675756439, -1.0689902461, 0.70763873322],
    });
    expectAsPrinted(products[16], {
      level: [6.15833333333, 5.56365488483, 6.75301178183],
      slope: [1.11877571102, 0.763326029514, 1.47422539252],
      meanSquare: 0.854793365028,
      df: 10,
      tough: [-1.13311882991, -2.0342861436, -0.231951516223],
      good: [-0.698714133876, -1.55990924041, 0.162480972659],
    });
  });

  it('answers as R says by the index of the other products', () => {
    const trials = table();
    const { products } = finlayWilkinson(trials, 'corn', {
      of: 'other products',
      environments: siteMeans(trials),
      without: (product) => siteMeans(trials, product),
    });
    expectAsPrinted(products[0], {
      level: [7.40009825366, 6.88358003106, 7.91661647627],
      slope: [0.843154082515, 0.537190148662, 1.14911801637],
      meanSquare: 0.64477440108,
      df: 10,
      tough: [0.633678270989, -0.140525773971, 1.40788231595],
      good: [0.0600373933649, -0.688835966002, 0.808910752732],
    });
  });
});

/** USDA ARS Report of the early white corn trial of 1996, bu/ac: 60 products at 9 places; as in the R package agridat. */
describe.skipIf(missing(ars))(`open data ${ars}`, () => {
  const answers = () => {
    const table = openTrials(ars, 'loc');
    const found = finlayWilkinson(table, 'corn', { of: 'all products', environments: siteMeans(table) });
    return { found, names: table.products.map(({ name }) => name) };
  };

  it('answers to ground as R says', () => {
    const { products } = answers().found;
    expectAsPrinted(products[0], {
      level: [140.666666667, 132.372517603, 148.96081573],
      slope: [0.984151195022, 0.775848303249, 1.19245408679],
      meanSquare: 110.729133973,
      df: 7,
      tough: [-3.84995761807, -15.9172474988, 8.21733226267],
      good: [-5.24997941562, -17.9636535182, 7.463694687],
    });
    expectAsPrinted(products[36], {
      level: [141.288888889, 121.475826725, 161.101951053],
      slope: [1.23758506757, 0.739991147812, 1.73517898732],
      meanSquare: 631.860831907,
      df: 7,
      tough: [-13.891857295, -42.7181977335, 14.9344831436],
      good: [7.09548363199, -23.2749393486, 37.4659066125],
    });
    expectAsPrinted(products[59], {
      level: [159.011111111, 145.630750672, 172.39147155],
      slope: [0.911442103987, 0.575401872378, 1.2474823356],
      meanSquare: 288.173376937,
      df: 7,
      tough: [17.5539776599, -1.91332234686, 37.0212776667],
      good: [9.73111751799, -10.7789481546, 30.2411831906],
    });
  });

  it('has as many slopes over and under 1 as R finds, and claims ground for no product outside them', () => {
    const { found, names } = answers();
    const { products } = found;
    expect(products.filter(({ slope }) => slope.low > 1)).toHaveLength(9);
    expect(products.filter(({ slope }) => slope.high < 1)).toHaveLength(7);
    const best = products.filter((answer) => belongs(answer, found) === 'best ground');
    const tough = products.filter((answer) => belongs(answer, found) === 'tough ground');
    expect(best.length + tough.length).toBeGreaterThan(0);
    expect(best.every(({ slope, leadOnGood }) => slope.low > 1 && leadOnGood.low > 0)).toBe(true);
    expect(tough.every(({ slope, leadOnTough }) => slope.high < 1 && leadOnTough.low > 0)).toBe(true);
    const sentences = groundSentences(found, names);
    expect(sentences).toContain(
      'Of 60 products some 2 would seem steeper and as many flatter than the average by chance alone.',
    );
    for (const { product } of best) expect(sentences[0]).toContain(`${names[product]} (`);
    for (const { product } of tough) expect(sentences[1]).toContain(`${names[product]} (`);
  });

  it('has slopes that average 1 and levels that average the mean ground, the table being full', () => {
    const { products, mean_buPerAc } = answers().found;
    const mean = (of: (answer: GroundAnswer) => number) =>
      products.reduce((sum, answer) => sum + of(answer), 0) / products.length;
    expect(mean(({ slope }) => slope.value)).toBeCloseTo(1, 12);
    expect(mean(({ level }) => level.value)).toBeCloseTo(mean_buPerAc, 10);
  });
});
