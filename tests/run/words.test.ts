import { describe, expect, it } from 'vitest';
import type { PlanInput } from '../../src/plan/schema.ts';
import { run } from '../../src/run/run.ts';
import { answerSentence, stopIds, stopSentence } from '../../src/run/say.ts';
import { whyHere } from '../../src/run/why-here.ts';
import { plan } from '../plan/small-plan.ts';
import { answers, inputs } from './small-field.ts';

async function walk(change: Partial<PlanInput> = {}, own = inputs) {
  const made = plan({ ...answers, ...change });
  return { made, results: await run(made, own) };
}

describe('the answer in one sentence', () => {
  it('holds the figures of the ledger', async () => {
    const { made, results } = await walk();
    const sentence = answerSentence(results, made);
    // 120,000 m² are 29.65 ac; at 26,250 seeds an acre 778,381 seeds, 9.73 units and $2,335.
    expect(sentence).toContain('29.7 ac');
    expect(sentence).toContain('778,38');
    expect(sentence).toContain('$2,335 of seed');
    expect(sentence).toContain('/ac over the best flat plan');
  });

  it.each<[string, Partial<PlanInput>, RegExp]>([
    ['no price', { money: {} }, /No prices yet: worth unknown/],
    ['no lineup', { lineup: null }, /No lineup yet: worth unknown/],
    ['no lever: one zone', { zones: { count: 1 } }, /flat is as good/],
  ])('says so when there is %s', async (_, change, words) => {
    const { made, results } = await walk(change);
    expect(answerSentence(results, made)).toMatch(words);
  });

  it.each([
    [0.5, '$0.50/ac over the best flat plan'],
    [0.49, 'flat is as good'],
    [0, 'flat is as good'],
    [-0.05, 'flat is as good'],
    [-0.06, '$0.06/ac under the best flat plan'],
    [-12, '$12.00/ac under the best flat plan'],
  ])('says of %s dollars an acre: %s', async (perAc, words) => {
    const { made, results } = await walk();
    if (!results.worth) throw new Error('no worth');
    const sentence = answerSentence({ ...results, worth: { ...results.worth, perAc } }, made);
    expect(sentence.split(' · ').at(-1)).toBe(words);
  });

  it('counts one as one', async () => {
    const { made, results } = await walk({ zones: { count: 1 }, rates: { hoppers: 1 } });
    const { ledger } = results;
    if (!ledger) throw new Error('no ledger');
    const byProduct = ledger.byProduct.map((row) => ({ ...row, units: 0.7 }));
    expect(answerSentence({ ...results, ledger: { ...ledger, byProduct } }, made)).toContain(' · 1 unit · ');
    expect(answerSentence({ ...results, ledger: null }, made)).toContain(' · 1 zone · ');
    expect(stopSentence('evidence', results, made).text).toBe('soils; 1 year, 1 used');
    expect(stopSentence('zones', results, made).text).toBe('1 zone by natural breaks');
    expect(stopSentence('rates', results, made).text).toBe('1 product in 1 hopper');
  });

  it('says what is missing when there is no boundary', async () => {
    const { made, results } = await walk({}, { ...inputs, sources: new Map() });
    expect(answerSentence(results, made)).toBe('No boundary that can be used yet.');
    for (const stop of stopIds) expect(stopSentence(stop, results, made).text).not.toBe('');
    expect(stopSentence('field', results, made).state).toBe('needs you');
    expect(stopSentence('zones', results, made).state).toBe('not begun');
  });
});

describe('why here', () => {
  it('leads from the soil and the yield to the rate, each sentence with its source', async () => {
    const { made, results } = await walk();
    const east = results.zoning?.label.indexOf(1) ?? -1;
    const why = whyHere(results, made, east);
    const text = why?.sentences.map((sentence) => sentence.text).join(' ') ?? '';
    expect(text).toContain("The soil here is rated 200.0 bu/ac; the field's mean is 175.0.");
    // 200 over a mean of 175.
    expect(text).toContain('It yields 14 % over the field; over in 1 of 1 year.');
    expect(text).toContain('It lies in Best ground, 200 ± 0 bu/ac ground.');
    expect(text).toContain('26,250 seeds an acre');
    for (const sentence of why?.sentences ?? []) expect(sentence.source).not.toBe('');
    // The field was laid about 90.5° W, 41.5° N.
    expect(why?.lon).toBeCloseTo(-90.5, 2);
    expect(why?.lat).toBeCloseTo(41.5, 2);
  });

  it('is nothing where the field is not', async () => {
    const { made, results } = await walk();
    for (const cell of [-1, 1e6, Number.NaN]) expect(whyHere(results, made, cell)).toBeNull();
  });
});
