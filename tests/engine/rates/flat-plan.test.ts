import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chooseProducts } from '../../../src/engine/rates/choose-products.ts';
import { bestFlatPlan } from '../../../src/engine/rates/flat-plan.ts';
import { worthOver } from '../../../src/engine/rates/worth.ts';
import { zoneOption } from '../../../src/engine/rates/zone-option.ts';
import { anyProduct, product } from '../lineup/small-lineup.ts';
import { evenly } from '../response/any-curve.ts';

const money = { grainPrice_perBu: 4, dryingHauling_perBu: 0, emergence: 1 };
const limits = { step_seedsPerAc: 500, lowest_seedsPerAc: 0, highest_seedsPerAc: null };

describe('the best flat plan', () => {
  it('is one product at one rate for all the ground', () => {
    const follows = product({ response: { standPerEnvironment_plantsPerAc: 100 } });
    const ground = [
      { environment_buPerAc: 180, area_ac: 50 },
      { environment_buPerAc: 220, area_ac: 50 },
    ];
    // Tops at 28 and 32 thousand; r = 0.75 takes 3.75 off their mean of 30.
    const flat = bestFlatPlan([product({ response: { level_buPerAc: 190 } }), follows], ground, money, {
      ...limits,
      step_seedsPerAc: 250,
    });
    expect(flat).toMatchObject({ product: 1, seedsPerAc: 26_250 });
    // Mean yield 200 − 0.1 · (1.75² + 5.75²)/2.
    expect(flat?.marginPerAc).toBeCloseTo(4 * (200 - (0.1 * (1.75 ** 2 + 5.75 ** 2)) / 2) - 26.25 * 3, 9);
  });

  it('is of the first of products that pay alike', () => {
    const ground = [{ environment_buPerAc: 200, area_ac: 40 }];
    expect(bestFlatPlan([product(), product({ id: 'b' })], ground, money, limits)?.product).toBe(0);
  });

  it('is none where no product has an open rate', () => {
    expect(bestFlatPlan([], [{ environment_buPerAc: 200, area_ac: 1 }], money, limits)).toBeNull();
    expect(
      bestFlatPlan([product()], [{ environment_buPerAc: 200, area_ac: 1 }], money, {
        ...limits,
        lowest_seedsPerAc: 50_000,
      }),
    ).toBeNull();
  });

  it('is worth nothing less than itself on a field of one zone', () => {
    const option = zoneOption(product(), 0, 200, money, limits);
    const flat = bestFlatPlan([product()], [{ environment_buPerAc: 200, area_ac: 40 }], money, limits);
    if (!option || !flat) throw new Error('no rate');
    const worth = worthOver(flat, [{ zone: 0, chosen: option, options: [option] }], [40]);
    expect(worth.perAc).toBeCloseTo(0, 12);
    expect(flat.seedsPerAc).toBe(option.seedsPerAc);
  });

  it('never earns more than a plan by zones in as many hoppers, to the cent a field that counts as better', () => {
    fc.assert(
      fc.property(
        fc.array(anyProduct, { minLength: 1, maxLength: 4 }),
        fc.array(
          fc.record({
            environment_buPerAc: evenly(60, 260),
            area_ac: evenly(1, 100),
          }),
          { minLength: 1, maxLength: 4 },
        ),
        fc.integer({ min: 1, max: 3 }),
        (products, ground, hoppers) => {
          const flat = bestFlatPlan(products, ground, money, limits);
          const options = ground.map(({ environment_buPerAc }) =>
            products.flatMap(
              (own, index) => zoneOption(own, index, environment_buPerAc, money, limits) ?? [],
            ),
          );
          const area = ground.map(({ area_ac }) => area_ac);
          const choices = options.some((own) => own.length === 0)
            ? null
            : chooseProducts(options, area, hoppers);
          // A product may be open in some zones only, so a plan by zones may be where no flat one is.
          if (flat === null || choices === null) return flat === null;
          const worth = worthOver(flat, choices, area);
          return (
            worth.perField >= -0.01 - 1e-6 &&
            Math.abs(worth.perField - worth.perAc * area.reduce((a, b) => a + b, 0)) < 1e-6
          );
        },
      ),
      { seed: 1, numRuns: 1000 },
    );
  });
});
