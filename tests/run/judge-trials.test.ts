import { describe, expect, it } from 'vitest';
import type { ProductPlots } from '../../src/engine/lineup/product.ts';
import type { ResponseFit } from '../../src/engine/lineup/product-response.ts';
import type { Inputs } from '../../src/run/run.ts';
import { answerSentence, stopSentence } from '../../src/run/say.ts';
import { plan } from '../plan/small-plan.ts';
import { answers, inputs, lineup } from './small-field.ts';
import { walk } from './small-walk.ts';

const fitOf = (sites: number, plots: number): ResponseFit => ({
  ...{ plots, sites, runnerUp: null, leaning: 0, said: [] },
});

const plotsAt = (...site: number[]): ProductPlots => ({
  site,
  stand_plantsPerAc: site.map(() => 30_000),
  yield_buPerAc: site.map(() => 180),
});

/** The small field with trials by product; a product of which nothing is said goes. */
const withTrials = (
  trials: Readonly<Record<string, { fit: ResponseFit; plots: ProductPlots | null; pricePerUnit?: null }>>,
): Inputs => ({
  ...inputs,
  lineup: {
    ...lineup,
    sites: ['Alder', 'Birch', 'Cedar', 'Dogwood'].map((name) => ({
      ...{ name, year: 2025, environment_buPerAc: 180, environmentTold: false },
    })),
    products: lineup.products.flatMap((product) =>
      trials[product.id] ? [{ ...product, ...trials[product.id] }] : [],
    ),
  },
});

const told = async (own: Inputs, code: string) =>
  (await walk({}, own)).issues
    .filter((issue) => issue.code === code)
    .map(({ where, found }) => [where, found]);

describe('what the choice of products rests on', () => {
  it('says of a product planted on the trials of one site that it is, beside the answer too', async () => {
    const own = withTrials({ a: { fit: fitOf(1, 4), plots: plotsAt(0, 0, 0, 0) } });
    expect(await told(own, 'planted-on-one-site')).toEqual([['A', '4 plots at one site']]);
    expect(answerSentence(await walk({}, own), plan(answers))).toMatch(/ · A was tried at one site alone$/);
  });

  it('says nothing of one that was tried at two, nor of one nobody says was tried', async () => {
    const own = withTrials({ a: { fit: fitOf(2, 4), plots: plotsAt(0, 0, 1, 1) } });
    expect(await told(own, 'planted-on-one-site')).toEqual([]);
    expect(answerSentence(await walk({}, own), plan(answers))).not.toMatch(/tried/);
    expect((await walk()).issues.filter(({ code }) => code === 'planted-on-one-site')).toEqual([]);
  });

  it('says where no trial holds a planted product against another that is open', async () => {
    const apart = withTrials({
      a: { fit: fitOf(2, 2), plots: plotsAt(0, 1) },
      b: { fit: fitOf(2, 2), plots: plotsAt(2, 3) },
    });
    expect(await told(apart, 'products-never-met')).toEqual([
      ['A', 'no site in common with B, nor by way of other products'],
      ['B', 'no site in common with A, nor by way of other products'],
    ]);
    const met = withTrials({
      a: { fit: fitOf(2, 2), plots: plotsAt(0, 1) },
      b: { fit: fitOf(2, 2), plots: plotsAt(1, 3) },
    });
    expect(await told(met, 'products-never-met')).toEqual([]);
  });

  it('says so of products whose plots were let go and those tried since, and beside the answer', async () => {
    const gone = withTrials({
      a: { fit: fitOf(2, 2), plots: plotsAt(0, 1) },
      b: { fit: fitOf(2, 30), plots: null },
    });
    expect(await told(gone, 'products-never-met')).toEqual([
      ['A', 'no site in common with B, nor by way of other products'],
      ['B', 'no plots any more to hold it against A'],
    ]);
    expect(answerSentence(await walk({}, gone), plan(answers))).toMatch(
      / · B and A were never tried beside each other$/,
    );
    const one = await walk({ rates: { ...answers.rates, hoppers: 1 } }, gone);
    expect(answerSentence(one, plan(answers))).toMatch(
      / · [AB] was never tried beside 1 of the 1 other product$/,
    );
  });

  it('knows of products that met by way of one that is not in use', async () => {
    const trials = {
      a: { fit: fitOf(2, 2), plots: plotsAt(0, 1) },
      b: { fit: fitOf(2, 2), plots: plotsAt(2, 3) },
    };
    const own = withTrials(trials);
    const [first] = own.lineup!.products;
    const link = { ...first, id: 'c', name: 'C', fit: fitOf(2, 2), plots: plotsAt(1, 2) };
    const joined = { ...own, lineup: { ...own.lineup!, products: [...own.lineup!.products, link] } };
    const lineup = { source: 'lineup', leaveOut: ['c'] };
    const results = await walk({ lineup }, joined);
    expect(results.lineup.map(({ id }) => id)).toEqual(['a', 'b']);
    expect(results.issues.filter(({ code }) => code === 'products-never-met')).toEqual([]);
  });

  it('takes products whose plots all went as they were fitted, side by side', async () => {
    const both = withTrials({
      a: { fit: fitOf(2, 30), plots: null },
      b: { fit: fitOf(2, 30), plots: null },
    });
    expect(await told(both, 'products-never-met')).toEqual([]);
  });

  it('is the less sure of what the plan brings, the further apart such products may lie', async () => {
    const trials = (site: number) => ({
      a: { fit: fitOf(2, 2), plots: plotsAt(0, 1) },
      b: { fit: fitOf(2, 2), plots: plotsAt(site, 3) },
    });
    const width = async (site: number, apartSpread: number) => {
      const { sure } = await walk({ worth: { apartSpread } }, withTrials(trials(site)));
      return sure!.gain.high - sure!.gain.low;
    };
    expect(await width(2, 0.05)).toBeGreaterThan((await width(2, 0)) + 5);
    // Products that met are not drawn apart.
    expect(await width(1, 0.05)).toBe(await width(1, 0));
  });

  it('says that the only product with a price is all there was to choose from, and how many there are', async () => {
    const own = withTrials({
      a: { fit: fitOf(2, 4), plots: plotsAt(0, 1) },
      b: { fit: fitOf(2, 4), plots: plotsAt(0, 1), pricePerUnit: null },
    });
    const results = await walk({}, own);
    const lacking = results.issues.find(({ code }) => code === 'product-not-known-enough');
    expect(lacking?.effect).toBe('They are not placed: A is all there is to choose from');
    expect(stopSentence('lineup', results, plan(answers)).text).toBe('1 of 2 corn products in use');
  });
});
