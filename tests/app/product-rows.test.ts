import { describe, expect, it } from 'vitest';
import { productNames } from '../../src/app/stops/lineup/product-names.ts';
import { productRows } from '../../src/app/stops/lineup/product-rows.ts';
import { MOST_CURVES, yieldSeries } from '../../src/app/stops/lineup/yield-series.ts';
import { isRated, type Product } from '../../src/engine/lineup/product.ts';
import type { Lineup } from '../../src/plan/lineup-schema.ts';
import type { Results } from '../../src/run/results.ts';
import { product } from '../engine/lineup/small-lineup.ts';
import { lineup } from '../run/small-field.ts';

const named = (name: string, over: Partial<Product> = {}): Product => ({
  ...product({ name }),
  id: name.toLowerCase(),
  ...over,
});
const of = (products: readonly Product[]): Lineup => ({ ...lineup, products: [...products] });

/** A run of which only what the table reads is there: `earns` by name of the product, on two zones. */
function ran(products: readonly Product[], earns: Readonly<Record<string, number>>, chosen: string): Results {
  const rated = products.filter(isRated);
  const optionOf = ({ name }: Product) => ({
    product: rated.findIndex((own) => own.name === name),
    plantsPerAc: 30_000,
    marginPerAc: earns[name],
  });
  const options = rated.filter(({ name }) => name in earns).map(optionOf);
  const choice = { options, chosen: options.find((own) => rated[own.product].name === chosen) };
  const zones = [
    { name: 'Rise', environment_buPerAc: 150 },
    { name: 'Flat', environment_buPerAc: 200 },
  ];
  const placement = zones.map(() =>
    rated.map(({ name }) => ({ verdict: name === 'Ruff' ? 'not here' : 'open' })),
  );
  return { lineup: rated, choices: [choice, choice], zoning: { zones }, placement } as unknown as Results;
}

describe('the rows of the lineup', () => {
  const products = [
    named('Snipe', { pricePerUnit: null }),
    named('Teal'),
    named('Ruff'),
    named('Wren', { pricePerUnit: null, response: null }),
    named('Knot'),
    named('Pipit', { crop: 'soybean' }),
    named('Stint', { response: null }),
  ];
  const rows = productRows(of(products), 'Corn', ran(products, { Teal: 640, Knot: 700 }, 'Teal'), 1);

  it('have who earns most first, and those without a price last, each with what it lacks', () => {
    expect(rows.map(({ name, held }) => [name, held])).toEqual([
      ['Knot', ''],
      ['Teal', ''],
      ['Ruff', 'not on Flat'],
      ['Stint', 'no response known'],
      ['Snipe', 'no price'],
      ['Wren', 'no response known, no price'],
    ]);
    expect(rows.filter(({ planted }) => planted).map(({ name }) => name)).toEqual(['Teal']);
  });

  it('are drawn with a price or without, the planted ones named', () => {
    const series = yieldSeries(rows, ran(products, { Teal: 640, Knot: 700 }, 'Teal'), 1);
    expect(series.map(({ id, label }) => [id, label])).toEqual([
      ['knot', ''],
      ['ruff', ''],
      ['snipe', ''],
      ['teal', 'Teal'],
    ]);
  });

  it('are drawn as far as the eye tells them apart, what is planted always', () => {
    const many = Array.from({ length: MOST_CURVES + 20 }, (_, k) => named(`P${k}`));
    const earns = Object.fromEntries(many.map(({ name }, k) => [name, 900 - k]));
    const results = ran(many, earns, `P${MOST_CURVES + 10}`);
    const all = productRows(of(many), 'corn', results, 0);
    const series = yieldSeries(all, results, 0);
    expect(series).toHaveLength(MOST_CURVES + 1);
    expect(series[MOST_CURVES].label).toBe(`P${MOST_CURVES + 10}`);
  });
});

describe('what products are called', () => {
  it('is the name, with the crop where two crops have it', () => {
    const both = [named('Teal'), named('Teal', { id: 'teal-2', crop: 'soybean' }), named('Knot')];
    expect(productNames(both)).toEqual(['Teal (corn)', 'Teal (soybean)', 'Knot']);
  });
});
