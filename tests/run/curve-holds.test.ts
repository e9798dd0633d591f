import { describe, expect, it } from 'vitest';
import { newProduct } from '../../src/engine/lineup/new-product.ts';
import type { Product } from '../../src/engine/lineup/product.ts';
import { product } from '../engine/lineup/small-lineup.ts';
import { inputs, lineup } from './small-field.ts';
import { errors, walk } from './small-walk.ts';

/** Its stand falls by 700 plants a bushel: on the poor ground of 150 none is left, and its formula would promise more than its level. */
const fails = product({
  id: 'f',
  name: 'F',
  response: {
    family: 'holliday',
    level_buPerAc: 900,
    bend: null,
    standPerEnvironment_plantsPerAc: 700,
  },
});
const withProducts = (...products: Product[]) => ({ ...inputs, lineup: { ...lineup, products } });
const rates = { emergence: 1, step_seedsPerAc: 250 };

describe('a product whose curve does not hold on some ground', () => {
  it('is planted where it does, told where it does not, and no flat plan', async () => {
    const results = await walk({}, withProducts(product(), fails));
    expect(errors(results)).toEqual([]);
    expect(results.choices?.map(({ chosen }) => results.lineup[chosen.product].id)).toEqual(['a', 'f']);
    expect(results.choices?.[0].options).toHaveLength(1);
    const told = results.issues.filter(({ code }) => code === 'curve-does-not-hold');
    expect(told).toHaveLength(1);
    expect(told[0]).toMatchObject({
      severity: 'warning',
      found: 'F in zone 1 Poor ground: yield does not climb towards a level',
    });
    expect(results.worth?.flat.product).toBe(0);
  });

  it('leaves a zone without a product where there is no other, and that is said', async () => {
    const results = await walk({}, withProducts(fails));
    const told = results.issues.find(({ code }) => code === 'zone-without-product');
    expect(told?.found).toBe(
      '1 product, all with a curve that does not hold on ground of 150.0 bu/ac: F: yield does not climb towards a level',
    );
    expect(told?.remedy).toBe('Check the yield expected of the field, or add a product for such ground');
  });

  it('cannot be set there by hand', async () => {
    const byHand = [{ zone: 1, product: 'f', seedsPerAc: 30_000 }];
    const results = await walk({ rates: { ...rates, byHand } }, withProducts(product(), fails));
    expect(results.choices).toBeNull();
    expect(results.issues.find(({ code }) => code === 'zone-without-product')?.found).toMatch(
      /^f set by hand, whose curve does not hold on ground of 150\.0 bu\/ac/,
    );
  });

  it('leaves no flat plan where every product has such ground, which is told', async () => {
    // Given at the poor ground, so that the good one is where it fails.
    const turned = product({
      id: 'g',
      name: 'G',
      response: {
        family: 'density-decay',
        reference_buPerAc: 150,
        bend: null,
        standPerEnvironment_plantsPerAc: -700,
      },
    });
    const results = await walk({ rates: { ...rates, hoppers: 2 } }, withProducts(fails, turned));
    expect(results.choices?.map(({ chosen }) => results.lineup[chosen.product].id)).toEqual(['g', 'f']);
    expect(results.worth).toBeNull();
    expect(results.issues.map(({ code }) => code)).toContain('flat-plan-none');
  });
});

describe('a product of which too little is known', () => {
  const known = { id: 'n', name: 'New', crop: 'corn', seedsPerUnit: 80_000 };
  const fresh = newProduct(known);

  it('is set aside with a warning of what is missing, and the rest are placed', async () => {
    const priced = { ...fresh, id: 'p', name: 'Priced', pricePerUnit: 240 };
    const results = await walk({}, withProducts(product(), fresh, priced));
    expect(errors(results)).toEqual([]);
    expect(results.lineup.map(({ id }) => id)).toEqual(['a']);
    expect(results.issues.find(({ code }) => code === 'product-not-known-enough')).toMatchObject({
      severity: 'warning',
      found:
        'New has no price and no response to population and no tested stands; Priced has no response to population and no tested stands',
    });
  });

  it('stops the rates where there is no other', async () => {
    expect(errors(await walk({}, withProducts(fresh)))).toContain('product-not-known-enough');
  });
});
