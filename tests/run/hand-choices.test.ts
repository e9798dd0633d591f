import { describe, expect, it } from 'vitest';
import { run } from '../../src/run/run.ts';
import { product } from '../engine/lineup/small-lineup.ts';
import { plan } from '../plan/small-plan.ts';
import { answers, inputs, lineup } from './small-field.ts';
import { errors, walk } from './small-walk.ts';

describe('what the plan sets by hand, and what the lineup cannot know', () => {
  it('a rate by hand outside the tested stands is kept and told', async () => {
    const results = await walk({ rates: { emergence: 1, byHand: [{ zone: 1, seedsPerAc: 60_000 }] } });
    expect(results.choices?.[0].chosen.seedsPerAc).toBe(60_000);
    const told = results.issues.find(({ code }) => code === 'by-hand-beyond-tested');
    expect(told).toMatchObject({ severity: 'warning', where: 'zone 1 Poor ground' });
  });

  it('a hand choice tells whether it set the product or the rate', async () => {
    const byHand = [
      { zone: 1, product: 'a' },
      { zone: 2, seedsPerAc: 30_000 },
    ];
    const results = await walk({ rates: { emergence: 1, byHand } });
    expect(results.choices?.map(({ chosen }) => chosen.bound)).toEqual([
      ['product-by-hand'],
      ['rate-by-hand'],
    ]);
    expect(results.issues.map(({ code }) => code)).not.toContain('rate-at-limit');
  });

  it('a rate by hand keeps the product the zone would have had, also where another would earn more at it', async () => {
    // B wants a thinner stand, so it leads at low rates though A leads where both may choose.
    const thin = product({
      id: 'b',
      name: 'B',
      response: { level_buPerAc: 199, stand_plantsPerAc: 24_000 },
    });
    const own = { ...inputs, lineup: { ...lineup, products: [product(), thin] } };
    const free = (await walk({}, own)).choices?.[1].chosen.product;
    let others = 0;
    for (let seedsPerAc = 10_000; seedsPerAc <= 60_000; seedsPerAc += 2_500) {
      const { choices } = await walk({ rates: { byHand: [{ zone: 2, seedsPerAc }] } }, own);
      expect([seedsPerAc, choices?.[1].chosen.product]).toEqual([seedsPerAc, free]);
      expect(choices?.[1].chosen.seedsPerAc).toBe(seedsPerAc);
      if (choices?.[1].options[0].product !== free) others++;
    }
    expect(others).toBeGreaterThan(0);
  });

  it('a rate by hand at the limit is kept; past it the zone and the limit are named', async () => {
    const rates = (seedsPerAc: number) => ({
      emergence: 1,
      highest_seedsPerAc: 36_000,
      byHand: [{ zone: 1, seedsPerAc }],
    });
    expect((await walk({ rates: rates(36_000) })).choices?.[0].chosen.seedsPerAc).toBe(36_000);
    const { issues } = await walk({ rates: rates(36_500) });
    const told = issues.find(({ code }) => code === 'by-hand-beyond-limit');
    expect(told).toMatchObject({ severity: 'error', where: 'zone 1 Poor ground' });
    expect(told?.expected).toContain('36,000, the highest rate');
  });

  it('a product by hand that is not in the lineup is named, with those that are', async () => {
    const { issues } = await walk({ rates: { byHand: [{ zone: 2, product: 'gone' }] } });
    const told = issues.find(({ code }) => code === 'by-hand-no-product');
    expect(told?.found).toContain('gone');
    expect(told?.expected).toBe('one of a, b');
  });

  it('an id left out that the lineup does not hold is a warning', async () => {
    const results = await walk({ lineup: { source: 'lineup', leaveOut: ['gone', 'b', 's'] } });
    const told = results.issues.filter(({ code }) => code === 'leave-out-no-product');
    expect(told).toMatchObject([{ severity: 'warning', found: 'gone' }]);
    expect(results.prescription).not.toBeNull();
  });

  it('ground far from the trials is told, with the zone and the product', async () => {
    // A and B are given at 200 bu/ac: 0.6 to 1.5 times that is 120 to 300. The zones lie at 6/7 and 8/7 of what is expected.
    const beyond = async (expected_buPerAc: number) =>
      (await walk({ environment: { expected_buPerAc } })).issues
        .filter(({ code }) => code === 'ground-beyond-trials')
        .map(({ where, found }) => [where, found.split('planted to ')[1]]);
    expect(await beyond(175)).toEqual([]);
    expect(await beyond(141)).toEqual([]);
    expect(await beyond(139)).toEqual([['zone 1 Poor ground', 'B']]);
    expect(await beyond(262)).toEqual([]);
    expect(await beyond(263)).toEqual([['zone 2 Best ground', 'A']]);
  });

  it('ground where the chosen product would yield nothing is refused', async () => {
    const poor = lineup.products.map((own) => ({
      ...own,
      response: { ...own.response, levelPerEnvironment: 2 },
    }));
    const results = await run(plan({ ...answers, environment: { expected_buPerAc: 80 } }), {
      ...inputs,
      lineup: { ...lineup, products: poor },
    });
    expect(errors(results)).toEqual(['zone-without-yield']);
    expect(results.prescription).toBeNull();
  });
});
