import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { fitLineup } from '../../../src/engine/lineup/fit-lineup.ts';
import { optimumInterval } from '../../../src/engine/lineup/response-interval.ts';
import type { TrialTable } from '../../../src/engine/lineup/trial-table.ts';
import { random } from '../../../src/engine/math/random.ts';
import { readTrials } from '../../../src/formats/trials/read-trials.ts';

const SAMPLES = join(import.meta.dirname, '../../../sample-fields');
const bytesOf = (name: string) => new Uint8Array(readFileSync(join(SAMPLES, name)));

/** A made trial: every product at every site and stand, twice; `yieldOf` is what grows. */
function trial(
  products: readonly string[],
  stands_k: readonly number[],
  yieldOf: (product: number, p: number, environment: number) => number,
  { sites = 8, error = 3, seed = 5 } = {},
): TrialTable {
  const { normal } = random(seed);
  const rows = products.flatMap((_, product) =>
    Array.from({ length: sites }, (__, site) => {
      const environment = 150 + (100 * site) / sites;
      const off = 2 * normal();
      return stands_k.flatMap((p) =>
        [0, 1].map((block) => ({
          product,
          site,
          p,
          block,
          y: yieldOf(product, p, environment) + off + error * normal(),
        })),
      );
    }).flat(),
  );
  return {
    products: products.map((name) => ({ name, crop: 'corn' })),
    sites: Array.from({ length: sites }, (_, k) => ({
      name: `site ${k}`,
      year: 2026,
      environment_buPerAc: 150 + (100 * k) / sites,
    })),
    product: Uint32Array.from(rows, (row) => row.product),
    site: Uint32Array.from(rows, (row) => row.site),
    stand_plantsPerAc: Float64Array.from(rows, (row) => 1000 * row.p),
    yield_buPerAc: Float64Array.from(rows, (row) => row.y),
    block: Uint32Array.from(rows, (row) => row.block),
  };
}

const NAMES = ['Rail 1', 'Rail 2', 'Rail 3', 'Rail 4', 'Rail 5'];
const STANDS = [20, 24, 28, 32, 36, 40];
/** Best stands 31 to 35 thousand. */
const round = (product: number, p: number, e: number) => e + product - 0.15 * (p - 31 - product) ** 2;

describe('the trials of the sample', () => {
  const { table } = readTrials({ name: 'trials.csv', bytes: bytesOf('trials.csv') });
  const truth = JSON.parse(readFileSync(join(SAMPLES, 'truth.json'), 'utf8')).products as {
    name: string;
    crop: string;
    optimum_k: number;
    optimumPerEnvironment_k: number;
    yield_buPerAc: number;
    yieldPerEnvironment: number;
  }[];

  it.each([
    ['corn', 200, 1.2, 4],
    ['soybean', 58, 9, 1.3],
  ])('give the true responses of %s back, as near as plots can', (crop, reference, standOff_k, levelOff) => {
    const fit = fitLineup(table, crop, { reference_buPerAc: reference });
    expect(fit.family).toBe('quadratic');
    expect(fit.issues).toEqual([]);
    for (const { product, response } of fit.products) {
      const own = truth.find(({ name }) => name === table.products[product].name)!;
      // Some three standard errors of the worst tested product.
      expect(Math.abs(response!.level_buPerAc - own.yield_buPerAc)).toBeLessThan(levelOff);
      if (response!.family === 'quadratic')
        expect(Math.abs(response!.stand_plantsPerAc / 1000 - own.optimum_k)).toBeLessThan(standOff_k);
      expect(Math.sign(response!.standPerEnvironment_plantsPerAc)).toBe(
        Math.sign(own.optimumPerEnvironment_k),
      );
    }
  });

  it('give the same answer whatever the order of their rows', () => {
    const turned = (own: ArrayLike<number>) => Array.from(own).reverse();
    const reversed: TrialTable = {
      ...table,
      product: Uint32Array.from(turned(table.product)),
      site: Uint32Array.from(turned(table.site)),
      stand_plantsPerAc: Float64Array.from(turned(table.stand_plantsPerAc)),
      yield_buPerAc: Float64Array.from(turned(table.yield_buPerAc)),
      block: Uint32Array.from(turned(table.block)),
    };
    const [one, two] = [table, reversed].map((own) => fitLineup(own, 'corn').products);
    one.forEach(({ response }, k) => {
      expect(two[k].response!.family).toBe(response!.family);
      // Sums in another order differ in their last digits, and so does where a search comes to rest.
      expect(two[k].response!.stand_plantsPerAc / response!.stand_plantsPerAc).toBeCloseTo(1, 5);
      expect(two[k].response!.level_buPerAc / response!.level_buPerAc).toBeCloseTo(1, 6);
    });
  });
});

describe('products of which their own plots tell too little', () => {
  it('with two stands alone take the curve of the others at their own level, and say so', () => {
    const whole = trial(NAMES, STANDS, round);
    const few = whole.product.map((product, i) =>
      product === 4 && ![24, 32].includes(whole.stand_plantsPerAc[i] / 1000) ? 1 : 0,
    );
    const pick = <T extends Float64Array | Uint32Array>(own: T) => own.filter((_, i) => few[i] === 0) as T;
    const table: TrialTable = {
      ...whole,
      product: pick(whole.product),
      site: pick(whole.site),
      stand_plantsPerAc: pick(whole.stand_plantsPerAc),
      yield_buPerAc: pick(whole.yield_buPerAc),
      block: pick(whole.block),
    };
    const { products } = fitLineup(table, 'corn');
    const { response, fit } = products[4];
    expect(response?.family).toBe('quadratic');
    expect(fit.leaning).toBe(1);
    expect(fit.said.join(' ')).toContain('show no curve');
    expect(response!.stand_plantsPerAc).toBeGreaterThan(30_500);
    expect(response!.stand_plantsPerAc).toBeLessThan(35_500);
  });

  it('alone and convex have a straight line that says which end is the better, or no curve', () => {
    const convex = trial(['Rail 1'], STANDS, (_, p, e) => e + 0.1 * (p - 26) ** 2);
    const { products } = fitLineup(convex, 'corn');
    expect(products[0].response?.family).toBe('line');
    expect(products[0].response!.bend).toBeGreaterThan(0);
    expect(products[0].fit.said.join(' ')).toMatch(/bends upwards/);
  });

  it('of a variety trial without stands have none, and a warning says what is missing', () => {
    const whole = trial(NAMES, STANDS, round);
    const table = { ...whole, stand_plantsPerAc: whole.stand_plantsPerAc.map(() => NaN) };
    const { products, issues } = fitLineup(table, 'corn');
    expect(products.map(({ response }) => response)).toEqual(NAMES.map(() => null));
    expect(new Set(issues.map(({ code }) => code))).toEqual(new Set(['product-without-curve']));
    expect(products[0].plots.stand_plantsPerAc.every((own) => own === null)).toBe(true);
  });

  it('at two stands have the line between them, told once with who they are', () => {
    const { products, issues } = fitLineup(trial(NAMES.slice(0, 3), [26, 34], round), 'corn');
    expect(products.map(({ stands }) => stands)).toEqual([2, 2, 2]);
    expect(issues.map(({ code, where, found }) => [code, where, found])).toEqual([
      ['product-few-stands', NAMES.slice(0, 3).join(', '), 'plots at 2 stands'],
    ]);
    const all = Array.from({ length: 9 }, (_, k) => `Rail ${k + 1}`);
    expect(fitLineup(trial(all, [26, 34], round), 'corn').issues[0].where).toBe(
      'Rail 1, Rail 2, Rail 3, Rail 4, Rail 5 and 4 more',
    );
  });

  it('with all yields equal have no curve, and nothing is thrown', () => {
    const { products } = fitLineup(
      trial(['Rail 1'], STANDS, () => 180, { error: 0, sites: 1 }),
      'corn',
    );
    expect(products[0].response === null || products[0].response.family === 'line').toBe(true);
  });

  it('whose optimum lies beyond the stands tried keep it and are told so', () => {
    const beyond = trial(NAMES, [16, 18, 20, 22, 24], (k, p, e) => e + k - 0.15 * (p - 30) ** 2);
    const { products } = fitLineup(beyond, 'corn');
    for (const { response, fit } of products) {
      expect(response!.stand_plantsPerAc).toBeGreaterThan(24_000);
      expect(fit.said.join(' ')).toMatch(/lies beyond the tested 16,000 to 24,000/);
    }
  });
});

it('an interval of the best stand holds the truth 19 times in 20, over made trials of many seeds', () => {
  let held = 0;
  let asked = 0;
  for (let seed = 1; seed <= 60; seed++) {
    const table = trial(NAMES, STANDS, round, { seed, error: 6, sites: 6 });
    for (const { product, response } of fitLineup(table, 'corn', { lean: false, families: ['quadratic'] })
      .products) {
      const found = optimumInterval(response!, response!.reference_buPerAc, 0)!;
      asked++;
      if (found.low <= 31 + product && 31 + product <= found.high) held++;
    }
  }
  // 300 intervals: 95 % give or take three standard errors of 1.3 points.
  expect(held / asked).toBeGreaterThan(0.91);
  expect(held / asked).toBeLessThan(0.99);
}, 60_000);
