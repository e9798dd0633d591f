import { describe, expect, it } from 'vitest';
import type { PlanInput } from '../../src/plan/schema.ts';
import { worthSentences } from '../../src/run/worth-words.ts';
import { plan } from '../plan/small-plan.ts';
import { answers } from './small-field.ts';
import { errors, walk } from './small-walk.ts';

// By the figures alone B goes on the poor half (zone 1) and A on the good (zone 2), 14.8 ac each.
const rates = answers.rates;
const under = (change: Partial<NonNullable<PlanInput['rates']>>) => walk({ rates: { ...rates, ...change } });
const planted = ({ choices, lineup }: Awaited<ReturnType<typeof walk>>) =>
  choices?.map(({ chosen }) => lineup[chosen.product].id);

describe('limits on products', () => {
  it('cost nothing where the plan keeps them anyway', async () => {
    const results = await under({ leastAcres: 10, mostShare: 0.6, mustUse: ['a'] });
    expect(planted(results)).toEqual(['b', 'a']);
    expect(results.limits).toEqual([]);
  });

  it('of least acres leave one product, and say what that costs', async () => {
    const free = await walk();
    const results = await under({ leastAcres: 20 });
    expect(new Set(planted(results)).size).toBe(1);
    const [limit] = results.limits;
    expect(limit.says).toBe('20.0 ac or more of a product');
    expect(limit.costsPerAc).toBeCloseTo(free.worth!.marginPerAc - results.worth!.marginPerAc, 9);
    expect(worthSentences(results, plan(answers)).join(' ')).toMatch(
      /Held by 20\.0 ac or more of a product: without that the field would earn \$\d+\.\d\d\/ac more\./,
    );
  });

  it('of hoppers are priced by one more', async () => {
    const free = await walk();
    const results = await under({ hoppers: 1 });
    expect(results.limits).toEqual([
      {
        limit: 'hoppers',
        says: '1 hopper and not one more',
        costsPerAc: expect.closeTo(free.worth!.marginPerAc - results.worth!.marginPerAc, 9),
      },
    ]);
  });

  it('of seed on hand keep a product to the zones it reaches', async () => {
    // 4 units of 80,000 seeds are enough for no half of the field.
    const results = await under({ onHand: [{ product: 'a', units: 4 }] });
    expect(planted(results)).toEqual(['b', 'b']);
    expect(results.limits[0].says).toBe('320,000 seeds of A on hand');
    const more = await under({ onHand: [{ product: 'a', units: 40 }] });
    expect(planted(more)).toEqual(['b', 'a']);
    expect(more.limits).toEqual([]);
  });

  it('that contradict each other are named, and which of them to take off', async () => {
    const results = await under({ leastAcres: 20, mostShare: 0.6 });
    expect(errors(results)).toEqual(['limits-contradict']);
    const issue = results.issues.find(({ code }) => code === 'limits-contradict');
    expect(issue?.found).toBe('20.0 ac or more of a product; no more than 17.8 ac of a product');
    expect(issue?.remedy).toBe('Take off any one of these limits');
    expect(results.ledger).toBeNull();
  });

  it('refuse a product to be planted that there is not, and tell of seed of one', async () => {
    expect(errors(await under({ mustUse: ['zz'] }))).toEqual(['must-use-no-product']);
    const results = await under({ onHand: [{ product: 'zz', units: 3 }] });
    expect(results.issues.find(({ code }) => code === 'on-hand-no-product')?.found).toBe('zz');
    expect(planted(results)).toEqual(['b', 'a']);
  });
});

describe('a choice by hand', () => {
  it('says what it costs: the field planned anew without it', async () => {
    const free = await walk();
    const byHand = [{ zone: 2, product: 'b', seedsPerAc: 35_000 }];
    const results = await under({ byHand });
    const [hand] = results.hands;
    expect(hand.zone).toBe(2);
    expect(hand.perAc).toBeCloseTo(free.worth!.marginPerAc - results.worth!.marginPerAc, 9);
    expect(worthSentences(results, plan(answers)).join(' ')).toContain(
      'What is set by hand on Best ground costs',
    );
    expect((await walk()).hands).toEqual([]);
  });
});
