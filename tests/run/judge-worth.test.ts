import { describe, expect, it } from 'vitest';
import type { ResponseUncertainty } from '../../src/engine/lineup/product-response.ts';
import { priceGrid } from '../../src/run/price-grid.ts';
import type { Inputs } from '../../src/run/run.ts';
import { worthSentences } from '../../src/run/worth-words.ts';
import { product } from '../engine/lineup/small-lineup.ts';
import { plan } from '../plan/small-plan.ts';
import { answers, inputs, lineup } from './small-field.ts';
import { walk } from './small-walk.ts';

/** Levels known to 2 bu/ac. */
const uncertainty: ResponseUncertainty = {
  ...{ covariance: [4, ...new Array(14).fill(0)], df: 30, plotSd_buPerAc: 6, siteSd_buPerAc: 3 },
};
const known: Inputs = {
  ...inputs,
  lineup: {
    ...lineup,
    products: lineup.products.map((own) => ({ ...own, response: { ...own.response, uncertainty } })),
  },
};
const usual = { product: 'a', seedsPerAc: 32_000 };

describe('how sure the plan is', () => {
  it('is drawn the same again from the same seed, and otherwise from another', async () => {
    const [one, again, other] = [
      await walk({}, known),
      await walk({}, known),
      await walk({ seed: 2 }, known),
    ];
    expect(again.sure).toEqual(one.sure);
    expect(other.sure?.gain).not.toEqual(one.sure?.gain);
  });

  it('holds what the plan claims, and knows the less the less is known', async () => {
    const { sure, worth } = await walk({}, known);
    expect(sure!.gain.low).toBeLessThan(worth!.perAc);
    expect(sure!.gain.high).toBeGreaterThan(worth!.perAc);
    const surer = await walk({ worth: { levelSpread: 0, yearToYear: 0, priceSpread: 0 } }, known);
    expect(surer.sure!.gain.high - surer.sure!.gain.low).toBeLessThan(sure!.gain.high - sure!.gain.low);
    expect(surer.sure!.knowingPerAc).toBeLessThan(sure!.knowingPerAc);
  });

  it('takes one year’s zones as assumed, and the level of the field by its years', async () => {
    const { sure, environment } = await walk({}, known);
    expect(sure!.ground.from).toBe('assumed');
    expect(sure!.ground.levelSd_buPerAc).toBeCloseTo(0.1 * environment!.expected_buPerAc, 9);
  });

  it('says that nobody tells how sure a product is', async () => {
    const results = await walk();
    expect(results.sure!.takenAsSure).toEqual([0, 1]);
    expect(worthSentences(results, plan(answers)).at(-1)).toMatch(/A and B are the lineup does not say/);
    expect(worthSentences(await walk({}, known), plan(answers)).join(' ')).not.toMatch(/does not say/);
  });
});

describe('the usual planting', () => {
  it('earns what its product does at its one rate, and the plan so much more', async () => {
    const { sure, worth, choices, zoning } = await walk({ worth: { usual } }, known);
    const flat = await walk(
      {
        worth: {},
        rates: { ...answers.rates, byHand: zoning!.zones.map(({ id }) => ({ zone: id, ...usual })) },
      },
      known,
    );
    const mean = (own: typeof choices) =>
      own!.reduce((sum, { chosen }, k) => sum + chosen.marginPerAc * zoning!.zones[k].area_m2, 0) /
      zoning!.zones.reduce((sum, { area_m2 }) => sum + area_m2, 0);
    expect(sure!.usual!.perAc).toBeCloseTo(worth!.marginPerAc - mean(flat.choices), 9);
    expect(sure!.usual!.chances.low).toBeLessThan(sure!.usual!.perAc);
    expect(sure!.usual!.chances.high).toBeGreaterThan(sure!.usual!.perAc);
  });

  it('of a product that is not in use is told, and not held against', async () => {
    const results = await walk({ worth: { usual: { ...usual, product: 'zz' } } }, known);
    expect(results.sure!.usual).toBeNull();
    expect(results.issues.find(({ code }) => code === 'usual-no-product')).toMatchObject({
      ...{ severity: 'warning', found: 'zz', expected: 'the id of a product in use: a, b' },
    });
  });
});

describe('a curve that does not hold on all ground', () => {
  // Yield per plant decays with a stand that sinks with the ground: 15,000 at 200 bu/ac, none, or hardly any, at 150.
  const sinking = (standPerEnvironment_plantsPerAc: number): Inputs => {
    const response = { family: 'density-decay', bend: null, stand_plantsPerAc: 15_000 } as const;
    const c = product({ id: 'c', name: 'C', response: { ...response, standPerEnvironment_plantsPerAc } });
    return { ...known, lineup: { ...lineup, products: [...known.lineup!.products, c] } };
  };
  const ofC = { worth: { usual: { product: 'c', seedsPerAc: 30_000 } } };

  it('is not what a plan is held against, and that is told', async () => {
    const { sure, issues } = await walk(ofC, sinking(305));
    expect(sure!.usual).toBeNull();
    const told = issues.find(({ code }) => code === 'usual-without-yield');
    expect(told?.found).toMatch(/^C at 30,000 seeds\/ac, .* 150\.0 bu\/ac \(zone 1 Poor ground\)$/);
    const heavy = await walk({ worth: { usual: { ...usual, seedsPerAc: 1_000_000 } } }, known);
    expect(heavy.sure!.usual).toBeNull();
  });

  it('is not looked at where it does not hold: knowing brings no fortune', async () => {
    const without = (await walk({}, known)).sure!.knowingPerAc;
    // Its stand is 50 plants/ac at 150 bu/ac and below none on ground a little poorer.
    const { knowingPerAc, gain } = (await walk({}, sinking(299))).sure!;
    expect(knowingPerAc).toBeGreaterThanOrEqual(without);
    expect(knowingPerAc).toBeLessThan(100);
    expect(Number.isFinite(gain.mean)).toBe(true);
  });
});

describe('other prices', () => {
  it('at the plan’s own pair come to its worth; at others to that of a plan made by them', async () => {
    const own = plan({ ...answers });
    const results = await walk({}, known);
    const grid = (await priceGrid(results, own))!;
    expect(grid.seedShare[2]).toBe(1);
    expect(grid.cells[2][2]).toEqual({ perAc: results.worth!.perAc, otherProducts: 0, seedsShare: 1 });
    const dearer = await walk(
      { money: { ...answers.money, grainPrice_perBu: grid.grainPrice_perBu[4] } },
      known,
    );
    expect(grid.cells[2][4]?.perAc).toBeCloseTo(dearer.worth!.perAc, 9);
  });

  it('come to none where there is no plan, and stop when they are to', async () => {
    expect(await priceGrid(await walk({ money: {} }), plan(answers))).toBeNull();
    const control = new AbortController();
    control.abort();
    await expect(priceGrid(await walk({}, known), plan(answers), { signal: control.signal })).rejects.toThrow(
      /abort/i,
    );
  });
});
