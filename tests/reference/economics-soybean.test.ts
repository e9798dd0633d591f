import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { curveAt, isRated, type RatedProduct } from '../../src/engine/lineup/product.ts';
import { zoneOption } from '../../src/engine/rates/zone-option.ts';
import { agronomicOptimum, economicOptimum, yieldAt } from '../../src/engine/response/curve.ts';
import { readLineup } from '../../src/plan/validate.ts';
import { product as rated } from '../engine/lineup/small-lineup.ts';
import { natural } from '../engine/response/natural.ts';

const oneSeedSteps = { step_seedsPerAc: 1, lowest_seedsPerAc: 0, highest_seedsPerAc: null };

/** A soybean whose curve has its top of `top` bu/ac at `best_k` thousand. */
function soybean(
  top: number,
  best_k: number,
  curvature: number,
  unit: { price: number; seeds: number },
  tested = { min: 80_000, max: 240_000 },
): RatedProduct {
  return rated({
    name: 'Trial',
    crop: 'soybean',
    seedsPerUnit: unit.seeds,
    pricePerUnit: unit.price,
    tested_plantsPerAc: tested,
    response: {
      reference_buPerAc: 50,
      level_buPerAc: top,
      levelPerEnvironment: 0,
      stand_plantsPerAc: best_k * 1000,
      bend: curvature,
    },
  });
}

/** a + bp − cp² through points by least squares, p about its mean. */
function quadraticThrough(points: readonly (readonly [p: number, y: number])[]) {
  const n = points.length;
  const middle = points.reduce((sum, [p]) => sum + p, 0) / n;
  const power = (k: number) => points.reduce((sum, [p]) => sum + (p - middle) ** k, 0);
  const moment = (k: number) => points.reduce((sum, [p, y]) => sum + y * (p - middle) ** k, 0);
  // Cramer's rule on the normal equations of 1, z, z².
  const det = (m: number[][]) =>
    m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) -
    m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0]) +
    m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0]);
  const normal = [0, 1, 2].map((i) => [0, 1, 2].map((j) => power(i + j)));
  const right = [0, 1, 2].map(moment);
  const [one, z, zz] = [0, 1, 2].map(
    (k) => det(normal.map((row, i) => row.map((value, j) => (j === k ? right[i] : value)))) / det(normal),
  );
  const best = middle - z / (2 * zz);
  return { curvature: -zz, best, top: one - (z * z) / (4 * zz) };
}

/** Michigan State University Extension, Maximizing returns on soybean seed investments: 30-inch rows, 15 trials, $45 a unit of 140,000, $12.90/bu. */
describe('Michigan soybean populations', () => {
  const table = [
    { seeds: 80_000, years: [36.8, 43.99], dollars: '495.38' },
    { seeds: 120_000, years: [43.2, 44.52], dollars: '527.22' },
    { seeds: 160_000, years: [43.9, 45.84], dollars: '527.39' },
    { seeds: 200_000, years: [44.8, 44.79], dollars: '513.57' },
    { seeds: 240_000, years: [48.8, 44.95], dollars: '527.54' },
  ].map((row) => ({ ...row, mean: (row.years[0] + row.years[1]) / 2 }));
  const unit = { price: 45, seeds: 140_000 };
  const money = { grainPrice_perBu: 12.9, dryingHauling_perBu: 0, emergence: 1 };

  it.each(table)('$seeds seeds return $dollars dollars, to the cent', ({ seeds, mean, dollars }) => {
    const option = zoneOption(soybean(mean, seeds / 1000, 0.001, unit), 0, 50, money, oneSeedSteps, seeds);
    expect(option?.marginPerAc.toFixed(2)).toBe(dollars);
  });

  const { curvature, best, top } = quadraticThrough(table.map(({ seeds, mean }) => [seeds / 1000, mean]));
  const fitted = soybean(top, best, curvature, unit);

  it('put the top of their quadratic outside the populations tried, and the best return inside', () => {
    const option = zoneOption(fitted, 0, 50, money, oneSeedSteps);
    // Computed with R: 260.9 and 188.5 thousand.
    expect(agronomicOptimum(curveAt(fitted, 50))).toBeCloseTo(260.9, 1);
    expect((option?.economicOptimum_plantsPerAc ?? 0) / 1000).toBeCloseTo(188.5, 1);
    expect(option?.bound).toEqual([]);
    // What nothing about the rate tells: five means with one quadratic leave its top beyond all that was tried.
    expect(agronomicOptimum(curveAt(fitted, 50)) * 1000).toBeGreaterThan(fitted.tested_plantsPerAc.max);
  });

  it('are held at the highest population tried, and said so, when seed is cheap', () => {
    const cheap = zoneOption(
      soybean(top, best, curvature, { price: 4, seeds: 140_000 }),
      0,
      50,
      money,
      oneSeedSteps,
    );
    expect(cheap?.seedsPerAc).toBe(240_000);
    expect(cheap?.bound).toEqual(['tested']);
    expect(cheap?.economicOptimum_plantsPerAc).toBeGreaterThan(240_000);
  });

  it('40,000 more seeds cost $12.86, a bushel', () => {
    const at = (seeds: number) => zoneOption(fitted, 0, 50, money, oneSeedSteps, seeds)?.seedCostPerAc ?? 0;
    expect((at(160_000) - at(120_000)).toFixed(2)).toBe('12.86');
    expect((at(160_000) - at(120_000)) / 12.9).toBeCloseTo(1, 1);
  });
});

/**
 * University of Illinois Extension (Adee, Monmouth, 15-inch rows): seed at $40 a unit of 150,000 and beans at $9 pay best at a final stand of
 * 114,000; at $50 and $8, 102,000. One quadratic goes through both; what it says at $10 a bushel was computed outside the project.
 */
describe('Illinois soybean stands', () => {
  const r = (bag: number, bean: number) => bag / 150 / bean;
  // b − 2c·114 = r(40, 9) and b − 2c·102 = r(50, 8).
  const c = (r(50, 8) - r(40, 9)) / (2 * (114 - 102));
  const b = r(40, 9) + 2 * c * 114;
  const curve = natural(40, b, c);

  it('follow one quadratic', () => {
    expect(c).toBeCloseTo(5.015432e-4, 9);
    expect(b).toBeCloseTo(0.14398148, 8);
    expect(agronomicOptimum(curve)).toBeCloseTo(143.54, 2);
  });

  it.each([
    [40, 9, 114],
    [50, 8, 102],
    [30, 10, 123.6],
    [40, 10, 117],
    [50, 10, 110.3],
    [60, 10, 103.7],
  ])('a unit at $%s and beans at $%s: %s thousand plants', (bag, bean, stand) => {
    const own = soybean(50, b / (2 * c), c, { price: bag, seeds: 150_000 }, { min: 75_000, max: 145_000 });
    const money = { grainPrice_perBu: bean, dryingHauling_perBu: 0, emergence: 1 };
    const option = zoneOption(own, 0, 50, money, oneSeedSteps);
    expect((option?.economicOptimum_plantsPerAc ?? 0) / 1000).toBeCloseTo(stand, 1);
    expect(economicOptimum(curve, r(bag, bean))).toBeCloseTo(stand, 1);
  });

  it('lose less than 4 bushels over the stands tried', () => {
    const yields = [75, 95, 115, 135, 145].map((stand) => yieldAt(curve, stand));
    expect(Math.max(...yields) - Math.min(...yields)).toBeLessThan(4);
  });
});

/**
 * Signs, over the sample lineup: corn wants more plants on better ground (Bullock et al. 1998, Agronomy J. 90:830-836: 1,200 plants/ha more per
 * t/ha, 30.5 plants/ac per bu/ac), soybean fewer (Carciochi et al. 2019, Kansas Agric. Exp. Stn. Research Reports 5(6): 127,000 plants/ac in low,
 * 97,000 in high yield environments).
 */
describe('how the best stand follows the ground', () => {
  const file = join(import.meta.dirname, '../../sample-fields/lineup.json');
  const lineup = readLineup(JSON.parse(readFileSync(file, 'utf8')), 'lineup.json').value;
  const products = (crop: string) =>
    (lineup?.products ?? []).filter(isRated).filter((product) => product.crop === crop);
  const rises = (crop: string, from: number, to: number, r: number) =>
    products(crop).map((product) => {
      const at = (environment: number) => economicOptimum(curveAt(product, environment), r) * 1000;
      return (at(to) - at(from)) / (to - from);
    });

  it('rises for corn, by the order of 30 plants an acre per bushel', () => {
    const slopes = rises('corn', 150, 230, 0.8);
    expect(slopes).toHaveLength(8);
    for (const slope of slopes) expect(slope).toBeGreaterThan(0);
    const mean = slopes.reduce((sum, slope) => sum + slope, 0) / slopes.length;
    expect(mean).toBeGreaterThan(30.5 / 2);
    expect(mean).toBeLessThan(30.5 * 2);
  });

  it('falls for soybean', () => {
    const slopes = rises('soybean', 50, 66, 0.03);
    expect(slopes).toHaveLength(6);
    for (const slope of slopes) expect(slope).toBeLessThan(0);
  });
});
