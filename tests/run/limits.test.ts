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

  it('of seed on hand count a rate set by hand, not the one the zone would have had', async () => {
    // 14.8 ac take 593,000 seeds of A at 40,000 and 297,000 at 20,000; at its best rate 389,000.
    const units = (own: number) => [{ product: 'a', units: own }];
    const at = (seedsPerAc: number) => [{ zone: 2, seedsPerAc }];
    const over = await under({ onHand: units(6), byHand: at(40_000) });
    expect(planted(over)).toEqual(['b', 'b']);
    const within = await under({ onHand: units(4), byHand: at(20_000) });
    expect(planted(within)).toEqual(['b', 'a']);
    expect(within.ledger!.byProduct.find(({ productName }) => productName === 'A')!.seeds).toBeLessThan(
      320_000,
    );
    const kept = await under({ onHand: units(6), byHand: [{ ...at(40_000)[0], product: 'a' }] });
    expect(errors(kept)).toEqual(['limits-contradict']);
    const issue = kept.issues.find(({ code }) => code === 'limits-contradict');
    expect(issue?.found).toBe('480,000 seeds of A on hand');
    expect(issue?.remedy).toBe('Take off that limit, or set lower rates by hand');
  });

  it('of which several are in the way are all named', async () => {
    const few = ['a', 'b'].map((product) => ({ product, units: 4 }));
    const results = await under({ onHand: few, mostShare: 0.6 });
    const issue = results.issues.find(({ code }) => code === 'limits-contradict');
    expect(issue?.found).toBe(
      'no more than 17.8 ac of a product; 320,000 seeds of A on hand; 320,000 seeds of B on hand',
    );
    expect(issue?.remedy).toContain('Take off several of these limits');
  });

  it('are not blamed where hand choices want more hoppers whatever they are', async () => {
    const byHand = ['a', 'b'].map((product, k) => ({ zone: k + 1, product }));
    const results = await under({ hoppers: 1, leastAcres: 20, byHand });
    const issue = results.issues.find(({ severity }) => severity === 'error');
    expect([issue?.code, issue?.found]).toEqual(['hoppers-too-few', '1 hopper']);
  });

  it('of seed on hand hold the flat plan too: it is one that could be planted', async () => {
    const free = await walk();
    const best = free.lineup[free.worth!.flat.product].id;
    const results = await under({ onHand: [{ product: best, units: 4 }] });
    expect(results.lineup[results.worth!.flat.product].id).not.toBe(best);
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

  it('that sets nothing has no price', async () => {
    expect((await under({ byHand: [{ zone: 1 }] })).hands).toEqual([]);
  });

  it('over what the meter drops is told the highest rate that is taken', async () => {
    // 41,104.8 seeds/ac: rounded up it would be refused again.
    const planter = { row_in: 30, speed_mph: 5, mostSeedsPerSecond: 17.3 };
    const at = (seedsPerAc: number) => under({ planter, byHand: [{ zone: 1, seedsPerAc }] });
    const issue = (await at(50_000)).issues.find(({ code }) => code === 'by-hand-beyond-limit');
    expect(issue?.expected).toBe('no more than 41,104, the most the meter drops at that speed');
    expect(errors(await at(41_104))).toEqual([]);
    expect(errors(await at(41_105))).toEqual(['by-hand-beyond-limit']);
  });
});

describe('a zone without a rate', () => {
  const told = async (change: Parameters<typeof under>[0]) =>
    (await under(change)).issues.find(({ code }) => code === 'zone-without-product');

  it('names the meter where that leaves none', async () => {
    const issue = await told({ planter: { row_in: 30, speed_mph: 10, mostSeedsPerSecond: 5 } });
    expect(issue?.expected).toMatch(/no more than 5,940, the most the meter drops at that speed$/);
    expect(issue?.remedy).toMatch(/^Drive slower or change what the plan says of the planter/);
  });

  it('names the steps and the limit where those leave none', async () => {
    // Stands tried from 20,000 to 40,000.
    const coarse = await told({ step_seedsPerAc: 15_000, emergence: 0.9, highest_seedsPerAc: 29_999 });
    expect(coarse?.expected).toMatch(/in steps of 15,000 seeds\/ac, no more than 29,999/);
    expect(coarse?.remedy).toMatch(/^Widen the rate limits or take smaller steps/);
  });
});
