import { describe, expect, it } from 'vitest';
import { curveAt, type RatedProduct } from '../../src/engine/lineup/product.ts';
import { bestFlatPlan } from '../../src/engine/rates/flat-plan.ts';
import { netPrice_perBu, seedPrice_perThousand } from '../../src/engine/rates/money.ts';
import { worthOver } from '../../src/engine/rates/worth.ts';
import { zoneOption } from '../../src/engine/rates/zone-option.ts';
import { agronomicOptimum, economicOptimum } from '../../src/engine/response/curve.ts';
import { product as rated } from '../engine/lineup/small-lineup.ts';
import { natural } from '../engine/response/natural.ts';
import { nafziger, nafzigerStands } from './nafziger.ts';

/** A product whose yield is `top` bu/ac at its best stand (thousand plants) and falls by `curvature` bu per squared thousand from it. */
function product(top: number, best_k: number, curvature: number, pricePerUnit: number): RatedProduct {
  return rated({
    name: 'Table',
    pricePerUnit,
    tested_plantsPerAc: { min: 10_000, max: 36_000 },
    response: {
      reference_buPerAc: top,
      level_buPerAc: top,
      stand_plantsPerAc: best_k * 1000,
      bend: curvature,
    },
  });
}

const oneSeedSteps = { step_seedsPerAc: 1, lowest_seedsPerAc: 0, highest_seedsPerAc: null };

/** Least squares by the normal equations, Gauss with pivots: five unknowns, well scaled. */
function leastSquares(rows: readonly (readonly number[])[], y: readonly number[]): number[] {
  const k = rows[0].length;
  const m = Array.from({ length: k }, (_, i) => [
    ...Array.from({ length: k }, (_, j) => rows.reduce((sum, row) => sum + row[i] * row[j], 0)),
    rows.reduce((sum, row, n) => sum + row[i] * y[n], 0),
  ]);
  for (let i = 0; i < k; i++) {
    const pivot = m
      .slice(i)
      .reduce((best, row, n) => (Math.abs(row[i]) > Math.abs(m[best][i]) ? i + n : best), i);
    [m[i], m[pivot]] = [m[pivot], m[i]];
    for (let r = 0; r < k; r++) {
      if (r === i) continue;
      const share = m[r][i] / m[i][i];
      for (let c = i; c <= k; c++) m[r][c] -= share * m[i][c];
    }
  }
  return m.map((row, i) => row[k] / row[i]);
}

/** The surface the table is printed from: 1, d, d², p, p² (and d·p), stands and days about their middles. */
function fitTable(withProduct: boolean) {
  const rows: number[][] = [];
  const percent: number[] = [];
  for (const [day, ...values] of nafziger) {
    values.forEach((value, k) => {
      if (Number.isNaN(value)) return;
      const d = day / 10;
      const p = (nafzigerStands[k] - 23) / 10;
      rows.push([1, d, d * d, p, p * p, ...(withProduct ? [d * p] : [])]);
      percent.push(value);
    });
  }
  const [one, d, dd, p, pp, dp = 0] = leastSquares(rows, percent);
  const at = (day: number, stand: number) => {
    const x = day / 10;
    const z = (stand - 23) / 10;
    return one + d * x + dd * x * x + p * z + pp * z * z + dp * x * z;
  };
  const squares = rows.reduce((sum, row, n) => {
    const fitted = row.reduce((total, value, j) => total + value * [one, d, dd, p, pp, dp][j], 0);
    return sum + (percent[n] - fitted) ** 2;
  }, 0);
  return {
    at,
    residual: Math.sqrt(squares / (rows.length - rows[0].length)),
    // Percent per squared thousand plants, and the stand of most yield.
    curvature: -pp / 100,
    best_k: 23 + (10 * -p) / (2 * pp),
    bestDay: (10 * -d) / (2 * dd),
  };
}

/** Nafziger 1994 (see nafziger.ts); figures of the fit computed with R's lm. */
describe("Nafziger's table is a quadratic surface", () => {
  it('leaves residuals no larger than rounding to whole percents gives', () => {
    const { residual, at } = fitTable(true);
    // Pure rounding gives 1/√12 = 0.289.
    expect(residual).toBeCloseTo(0.296, 3);
    expect(at(-16, 14)).toBeCloseTo(76.1, 1);
    expect(at(-16, 18)).toBeCloseTo(85.0, 1);
  });

  it('has its top at 30,330 plants on 28 April', () => {
    const { best_k, bestDay, curvature } = fitTable(false);
    expect(best_k).toBeCloseTo(30.329, 3);
    expect(bestDay).toBeCloseTo(-2.7, 2);
    expect(curvature).toBeCloseTo(0.0773665355, 9);
  });
});

/**
 * The stand of highest return by highest yield, corn price and price of a bag of 80,000, thousand plants/ac. Computed outside the project from
 * the fit above, a percent of it being a hundredth of the highest yield; printed to two decimals.
 */
const GRID: readonly (readonly [top: number, corn: number, ...stands: number[]])[] = [
  [150, 3, 26.74, 25.84, 24.94, 24.05],
  [150, 4, 27.64, 26.96, 26.29, 25.62],
  [150, 5, 28.18, 27.64, 27.1, 26.56],
  [150, 6, 28.53, 28.09, 27.64, 27.19],
  [200, 3, 27.64, 26.96, 26.29, 25.62],
  [200, 4, 28.31, 27.8, 27.3, 26.8],
  [200, 5, 28.71, 28.31, 27.91, 27.5],
  [200, 6, 28.98, 28.65, 28.31, 27.97],
  [250, 3, 28.18, 27.64, 27.1, 26.56],
  [250, 4, 28.71, 28.31, 27.91, 27.5],
  [250, 5, 29.04, 28.71, 28.39, 28.07],
  [250, 6, 29.25, 28.98, 28.71, 28.44],
];
const BAGS = [200, 250, 300, 350];

describe('the economic optimum over 48 pairs of prices and yields', () => {
  const { best_k, curvature } = fitTable(false);
  const cells = GRID.flatMap(([top, corn, ...stands]) =>
    stands.map((stand, k) => ({ top, corn, bag: BAGS[k], stand })),
  );

  it.each(cells)(
    '$top bu/ac, corn at $corn dollars, a bag at $bag: $stand thousand',
    ({ top, corn, bag, stand }) => {
      // The table is in percent of the highest yield.
      const c = (curvature * top) / 100;
      const own = product(top, best_k, c, bag);
      const money = { grainPrice_perBu: corn, dryingHauling_perBu: 0, emergence: 1 };
      const option = zoneOption(own, 0, top, money, oneSeedSteps);
      expect(option).not.toBeNull();
      if (!option) return;
      expect(Number(option.economicOptimum_plantsPerAc) / 1000).toBeCloseTo(stand, 2);
      // Steps of a seed: the rate is the optimum to half a seed, a plant standing for each.
      expect(Math.abs(option.seedsPerAc - Number(option.economicOptimum_plantsPerAc))).toBeLessThanOrEqual(
        0.5,
      );
      // The money by its own arithmetic, to the cent.
      const p = option.seedsPerAc / 1000;
      const bushels = top - c * (p - best_k) ** 2;
      const margin = bushels * corn - (option.seedsPerAc / 80_000) * bag;
      expect(option.marginPerAc).toBeCloseTo(margin, 6);
      expect(option.bound).toEqual([]);
    },
  );

  it('loses price × curvature × distance² away from it', () => {
    const own = product(200, 30, 0.1, 240);
    const money = { grainPrice_perBu: 4, dryingHauling_perBu: 0, emergence: 1 };
    const best = zoneOption(own, 0, 200, money, oneSeedSteps);
    const off = zoneOption(own, 0, 200, money, oneSeedSteps, 30_000);
    // r = 3/4, so the optimum is 30 − 0.75/0.2 = 26.25 and 3.75 thousand off cost 4 · 0.1 · 3.75² = 5.625.
    expect(best?.seedsPerAc).toBe(26_250);
    expect((best?.marginPerAc ?? 0) - (off?.marginPerAc ?? 0)).toBeCloseTo(5.625, 9);
  });
});

/** Lindsey, Thomison & Nafziger 2018, Ohio State fact sheet AGF-520: corn $3.75, seed $3.00 a thousand; 32,721 seeds and 202.6 bu return $661. */
it('gives the return of AGF-520 at its uniform optimum', () => {
  const own = product(202.6, 32.721, 0.1, 240);
  const money = { grainPrice_perBu: 3.75, dryingHauling_perBu: 0, emergence: 1 };
  const option = zoneOption(own, 0, 202.6, money, oneSeedSteps, 32_721);
  expect(option?.yield_buPerAc).toBeCloseTo(202.6, 9);
  expect(option?.marginPerAc.toFixed(2)).toBe('661.59');
});

/**
 * Three zones under one rate, quadratics. Closed form: uniform stand Σw(b−r)/2Σwc, gain of a rate for each = price · Σwc(p−pU)². Figures computed
 * with R, agreeing with direct subtraction to 1e-13.
 */
describe('what rates by zone earn over one rate', () => {
  const zones = [
    { acres: 30, a: 20, b: 5.2, c: 0.1, best: 21.625 },
    { acres: 50, a: 10, b: 7, c: 0.105, best: 29.166667 },
    { acres: 20, a: -20, b: 6, c: 0.11, best: 23.295455 },
  ];
  const price = 4;
  const seed = 3.5;

  it('agrees with the closed form, $5.023414 an acre', () => {
    const r = seed / price;
    const uniform =
      zones.reduce((sum, { acres, b }) => sum + acres * (b - r), 0) /
      (2 * zones.reduce((sum, { acres, c }) => sum + acres * c, 0));
    expect(uniform).toBeCloseTo(25.76555, 6);
    for (const { a, b, c, best } of zones) expect(economicOptimum(natural(a, b, c), r)).toBeCloseTo(best, 6);
    const gain = zones.reduce(
      (sum, { acres, c, best }) => sum + ((price * acres) / 100) * c * (best - uniform) ** 2,
      0,
    );
    expect(gain).toBeCloseTo(5.023414, 5);
  });

  it('is what the flat plan and the choices of a product whose best stand follows the ground say', () => {
    // One curvature for all ground, as a product has; environments 150, 180, 210 with the best stand rising 100 plants a bushel.
    const own: RatedProduct = {
      ...product(180, 28, 0.1, 280),
      response: { ...product(180, 28, 0.1, 280).response, standPerEnvironment_plantsPerAc: 100 },
    };
    const ground = [30, 50, 20].map((area_ac, k) => ({ environment_buPerAc: 150 + 30 * k, area_ac }));
    const money = { grainPrice_perBu: price, dryingHauling_perBu: 0, emergence: 1 };
    const flat = bestFlatPlan([own], ground, money, oneSeedSteps);
    if (!flat) throw new Error('no flat plan');
    const choices = ground.map(({ environment_buPerAc }, zone) => {
      const chosen = zoneOption(own, 0, environment_buPerAc, money, oneSeedSteps);
      if (!chosen) throw new Error('no option');
      return { zone, chosen, options: [chosen] };
    });
    const r = seedPrice_perThousand(own) / netPrice_perBu(money);
    const best = ground.map(({ environment_buPerAc }) => {
      const { stand, bend } = curveAt(own, environment_buPerAc);
      return stand - r / (2 * bend);
    });
    // Equal curvatures: the uniform stand is the mean of the three by area.
    const uniform = 0.3 * best[0] + 0.5 * best[1] + 0.2 * best[2];
    // Half a step of one seed either way of the true optimum.
    expect(Math.abs(flat.seedsPerAc - 1000 * uniform)).toBeLessThanOrEqual(0.5);
    const gain =
      price *
      0.1 *
      (0.3 * (best[0] - uniform) ** 2 + 0.5 * (best[1] - uniform) ** 2 + 0.2 * (best[2] - uniform) ** 2);
    // Rounding each of four stands by half a seed costs at most price · c · 0.0005² each.
    expect(
      worthOver(
        flat,
        choices,
        ground.map(({ area_ac }) => area_ac),
      ).perAc,
    ).toBeCloseTo(gain, 5);
    expect(agronomicOptimum(curveAt(own, 180))).toBe(28);
  });
});
