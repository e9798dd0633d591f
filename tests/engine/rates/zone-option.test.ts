import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { curveAt } from '../../../src/engine/lineup/product.ts';
import { bestFlatPlan } from '../../../src/engine/rates/flat-plan.ts';
import { netPrice_perBu, seedPrice_perThousand, thousandPlants_bu } from '../../../src/engine/rates/money.ts';
import { rateRange } from '../../../src/engine/rates/rate-range.ts';
import { zoneOption } from '../../../src/engine/rates/zone-option.ts';
import { curveDoubt, yieldAt } from '../../../src/engine/response/curve.ts';
import { anyProduct, product } from '../lineup/small-lineup.ts';
import { evenly } from '../response/any-curve.ts';

const money = { grainPrice_perBu: 4.5, dryingHauling_perBu: 0.5, emergence: 1 };
const limits = { step_seedsPerAc: 500, lowest_seedsPerAc: 0, highest_seedsPerAc: null };

describe('money', () => {
  it('counts a thousand plants in bushels: seed over net price and emergence', () => {
    expect(netPrice_perBu(money)).toBe(4);
    expect(seedPrice_perThousand(product())).toBe(3);
    expect(thousandPlants_bu(product(), { ...money, emergence: 0.75 })).toBe(1);
  });
});

describe('the rates open to a product', () => {
  it('are whole steps within its tested stands, in seeds', () => {
    expect(rateRange(product(), 1, limits)).toEqual({
      from: 20_000,
      to: 40_000,
      fromLimit: 'tested',
      toLimit: 'tested',
    });
    // 20,000/0.95 is 21,052.6 and 40,000/0.95 is 42,105.3.
    expect(rateRange(product(), 0.95, limits)).toMatchObject({ from: 21_500, to: 42_000 });
  });

  it('lose no step to rounding: 32,000 plants at 80 % are 40,000 seeds', () => {
    const own = product({ tested_plantsPerAc: { min: 16_000, max: 32_000 } });
    expect(rateRange(own, 0.8, { ...limits, step_seedsPerAc: 1 })).toMatchObject({
      from: 20_000,
      to: 40_000,
    });
    // 21,000/0.7 is a hair over 30,000 in floating point.
    const thin = product({ tested_plantsPerAc: { min: 21_000, max: 40_000 } });
    expect(rateRange(thin, 0.7, limits)?.from).toBe(30_000);
  });

  it('name the limit that set each end', () => {
    const narrow = { ...limits, lowest_seedsPerAc: 25_000, highest_seedsPerAc: 30_200 };
    expect(rateRange(product(), 1, narrow)).toEqual({
      from: 25_000,
      to: 30_000,
      fromLimit: 'lowest',
      toLimit: 'highest',
    });
    const wide = { ...limits, lowest_seedsPerAc: 5000, highest_seedsPerAc: 90_000 };
    expect(rateRange(product(), 1, wide)).toMatchObject({ fromLimit: 'tested', toLimit: 'tested' });
  });

  it('are none where no whole step is left', () => {
    expect(rateRange(product(), 1, { ...limits, lowest_seedsPerAc: 45_000 })).toBeNull();
    expect(
      rateRange(product(), 1, { ...limits, lowest_seedsPerAc: 30_100, highest_seedsPerAc: 30_400 }),
    ).toBeNull();
  });
});

describe('a product in a zone', () => {
  it('is planted at the optimum, to the nearest step that pays more', () => {
    // r = 3/4; (2·0.1·30 − 0.75)/0.2 = 26.25 thousand, halfway between two steps: the lower of two that pay alike.
    const option = zoneOption(product(), 3, 200, money, limits);
    expect(option).toMatchObject({ product: 3, seedsPerAc: 26_000, plantsPerAc: 26_000, bound: [] });
    expect(option?.economicOptimum_plantsPerAc).toBeCloseTo(26_250, 6);
    expect(option?.yield_buPerAc).toBeCloseTo(198.4, 9);
    expect(option?.seedCostPerAc).toBe(78);
    expect(option?.marginPerAc).toBeCloseTo(198.4 * 4 - 78, 9);
  });

  it('drops more seeds than plants stand', () => {
    const option = zoneOption(
      product(),
      0,
      200,
      { ...money, emergence: 0.9 },
      { ...limits, step_seedsPerAc: 1 },
    );
    // r = 3/(4 · 0.9); optimum 30 − r/0.2 thousand plants.
    const plants = 30_000 - 1000 * (3 / 3.6 / 0.2);
    expect(option?.economicOptimum_plantsPerAc).toBeCloseTo(plants, 6);
    expect(option?.seedsPerAc).toBe(Math.round(plants / 0.9));
    expect(option?.plantsPerAc).toBeCloseTo((option?.seedsPerAc ?? 0) * 0.9, 9);
  });

  it('is held inside the tested stands and the limits, and says which', () => {
    const thick = product({ response: { stand_plantsPerAc: 60_000 } });
    expect(zoneOption(thick, 0, 200, money, limits)).toMatchObject({ seedsPerAc: 40_000, bound: ['tested'] });
    expect(zoneOption(thick, 0, 200, money, { ...limits, highest_seedsPerAc: 36_000 })).toMatchObject({
      seedsPerAc: 36_000,
      bound: ['highest'],
    });
    expect(zoneOption(product(), 0, 200, money, { ...limits, lowest_seedsPerAc: 29_000 })).toMatchObject({
      seedsPerAc: 29_000,
      bound: ['lowest'],
    });
  });

  it('has its corners stated: seed that costs nothing, seed that never pays', () => {
    expect(zoneOption(product({ pricePerUnit: 0 }), 0, 200, money, limits)?.seedsPerAc).toBe(30_000);
    const plateau = product({ pricePerUnit: 0, response: { family: 'quadratic-plateau' } });
    expect(zoneOption(plateau, 0, 200, money, limits)?.seedsPerAc).toBe(30_000);
    expect(zoneOption(product({ pricePerUnit: 1e6 }), 0, 200, money, limits)).toMatchObject({
      seedsPerAc: 20_000,
      economicOptimum_plantsPerAc: 0,
      bound: ['tested'],
    });
  });

  it('stops at the better end of the stands tried where a straight line is all that is known', () => {
    // A bushel a thousand gained or lost, which takes three quarters of one to pay for.
    const line = (bend: number) => product({ response: { family: 'line', bend } });
    const none = { economicOptimum_plantsPerAc: null, bound: ['tested'] };
    expect(zoneOption(line(1), 0, 200, money, limits)).toMatchObject({ seedsPerAc: 40_000, ...none });
    expect(zoneOption(line(0.7), 0, 200, money, limits)).toMatchObject({ seedsPerAc: 20_000, ...none });
    expect(zoneOption(line(-1), 0, 200, money, limits)).toMatchObject({ seedsPerAc: 20_000, ...none });
    expect(zoneOption(line(1), 0, 200, money, { ...limits, highest_seedsPerAc: 36_000 })).toMatchObject({
      seedsPerAc: 36_000,
      bound: ['highest'],
    });
    expect(zoneOption(line(-1), 0, 200, money, { ...limits, lowest_seedsPerAc: 25_000 })).toMatchObject({
      seedsPerAc: 25_000,
      bound: ['lowest'],
    });
  });

  it('is planted well where planting nothing would earn more: the rate is the best of those open', () => {
    // The first plants bring little, those about 20 thousand much; at 7.5 bu a thousand all together lose money, and least of it near the top.
    const own = product({ pricePerUnit: 2400, response: { family: 'parabolic-reciprocal', bend: 4 } });
    const option = zoneOption(own, 0, 200, money, limits);
    expect(option).toMatchObject({ economicOptimum_plantsPerAc: 0, bound: [] });
    expect(option?.seedsPerAc).toBeGreaterThan(20_000);
    expect(option?.marginPerAc).toBeLessThan(0);
    // From few enough on, the fewest earn most.
    const thin = { ...own, tested_plantsPerAc: { min: 1000, max: 40_000 } };
    expect(zoneOption(thin, 0, 200, money, limits)).toMatchObject({ seedsPerAc: 1000, bound: ['tested'] });
  });

  it('is not open on ground where its curve does not hold: no stand is best there, whatever it yields', () => {
    // Its stand falls by 1000 a bushel: none is left 30 bushels up, where the formula would give 200 bu and more.
    for (const family of ['density-decay', 'parabolic-reciprocal', 'holliday', 'mitscherlich'] as const) {
      const own = product({ response: { family, bend: 0.5, standPerEnvironment_plantsPerAc: -1000 } });
      expect(zoneOption(own, 0, 215, money, limits)).not.toBeNull();
      for (const environment of [231, 250]) {
        expect(zoneOption(own, 0, environment, money, limits)).toBeNull();
        expect(zoneOption(own, 0, environment, money, limits, 30_000)).toBeNull();
        const ground = [200, environment].map((e) => ({ environment_buPerAc: e, area_ac: 10 }));
        expect(bestFlatPlan([own], ground, money, limits)).toBeNull();
      }
    }
  });

  it('keeps a rate set by hand, whatever it costs', () => {
    expect(zoneOption(product(), 0, 200, money, limits, 33_333)).toMatchObject({
      seedsPerAc: 33_333,
      bound: ['rate-by-hand'],
    });
  });

  it('is the best of all open steps, tried one by one; of two that pay alike the lower', () => {
    fc.assert(
      fc.property(
        anyProduct,
        evenly(40, 280),
        fc.record({
          grainPrice_perBu: evenly(1, 15),
          dryingHauling_perBu: evenly(0, 0.9),
          // In thousandths, so that no tested stand falls within a rounding of a step.
          emergence: fc.integer({ min: 500, max: 1000 }).map((k) => k / 1000),
        }),
        fc.constantFrom(100, 500, 1000, 2500, 7000),
        fc.option(fc.integer({ min: 0, max: 40_000 })),
        fc.option(fc.integer({ min: 10_000, max: 60_000 })),
        (own, environment, prices, step_seedsPerAc, lowest, highest_seedsPerAc) => {
          const open = { step_seedsPerAc, lowest_seedsPerAc: lowest ?? 0, highest_seedsPerAc };
          const option = zoneOption(own, 0, environment, prices, open);
          const curve = curveAt(own, environment);
          if (curveDoubt(curve) !== null) return option === null;
          let best = -Infinity;
          for (let seeds = 0; seeds <= 150_000; seeds += step_seedsPerAc) {
            const plants = seeds * prices.emergence;
            // The range a shade wide, as the engine's own.
            if (plants < own.tested_plantsPerAc.min - 1e-4 || plants > own.tested_plantsPerAc.max + 1e-4)
              continue;
            if (seeds < open.lowest_seedsPerAc || seeds > (highest_seedsPerAc ?? Infinity)) continue;
            const margin =
              yieldAt(curve, plants / 1000) * (prices.grainPrice_perBu - prices.dryingHauling_perBu) -
              (seeds * own.pricePerUnit) / own.seedsPerUnit;
            best = Math.max(best, margin);
          }
          if (option === null) return best === -Infinity;
          return Math.abs(option.marginPerAc - best) <= 1e-7 && option.seedsPerAc % step_seedsPerAc === 0;
        },
      ),
      { seed: 1, numRuns: 3000 },
    );
  });
});
