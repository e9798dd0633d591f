import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { M2_PER_ACRE } from '../../../src/engine/math/units.ts';
import { closeLedger } from '../../../src/engine/prescription/close-ledger.ts';
import type { ZoneChoice } from '../../../src/engine/rates/assignment.ts';
import type { Zoning } from '../../../src/engine/zones/zoning.ts';
import { product } from '../lineup/small-lineup.ts';

const products = [product(), product({ id: 'b', name: 'B', seedsPerUnit: 140_000, pricePerUnit: 63 })];

function plan(zones: readonly { acres: number; product: number; seedsPerAc: number }[]) {
  const zoning: Zoning = {
    label: new Uint8Array(0),
    zones: zones.map(({ acres }, k) => ({
      id: k + 1,
      name: `Zone ${k + 1}`,
      area_m2: acres * M2_PER_ACRE,
      environment_buPerAc: 200,
      environmentSd_buPerAc: 0,
      known: true,
    })),
  };
  const choices = zones.map(({ product: index, seedsPerAc }, zone): ZoneChoice => {
    const chosen = {
      product: index,
      seedsPerAc,
      plantsPerAc: seedsPerAc * 0.95,
      yield_buPerAc: 190,
      seedCostPerAc: 0,
      marginPerAc: 700,
      economicOptimum_plantsPerAc: seedsPerAc * 0.95,
      bound: [],
      boundCostsPerAc: 0,
    };
    return { zone, chosen, options: [chosen] };
  });
  return closeLedger(zoning, choices, products);
}

describe('the ledger', () => {
  const ledger = plan([
    { acres: 10, product: 0, seedsPerAc: 32_000 },
    { acres: 5, product: 1, seedsPerAc: 140_000 },
    { acres: 2.5, product: 0, seedsPerAc: 28_000 },
  ]);

  it('counts seeds, units and dollars by zone', () => {
    expect(ledger.byZone.map(({ seeds, units }) => [seeds, units])).toEqual([
      [320_000, 4],
      [700_000, 5],
      [70_000, 0.875],
    ]);
    // $240 for 80,000 and $63 for 140,000.
    [960, 315, 210].forEach((dollars, k) => {
      expect(ledger.byZone[k].seedCost).toBeCloseTo(dollars, 9);
    });
  });

  it('adds up to products, in the order of the lineup, and to the total', () => {
    expect(ledger.byProduct.map(({ productName, seeds, units }) => [productName, seeds, units])).toEqual([
      ['A', 390_000, 4.875],
      ['B', 700_000, 5],
    ]);
    expect(ledger.total.seeds).toBe(1_090_000);
    expect(ledger.total.acres).toBeCloseTo(17.5, 9);
    expect(ledger.total.seedCost).toBeCloseTo(1485, 9);
  });

  it('rounds to whole seeds in the zone and nowhere else', () => {
    const odd = plan([
      { acres: 1 / 3, product: 0, seedsPerAc: 32_000 },
      { acres: 1 / 3, product: 0, seedsPerAc: 32_000 },
    ]);
    expect(odd.byZone.map(({ seeds }) => seeds)).toEqual([10_667, 10_667]);
    expect(odd.total.seeds).toBe(21_334);
  });

  it('closes to the seed whatever the plan, and to a hair in acres, units and dollars', () => {
    const zones = fc.array(
      fc.record({
        acres: fc.double({ min: 0.001, max: 5000, noNaN: true }),
        product: fc.integer({ min: 0, max: 1 }),
        seedsPerAc: fc.integer({ min: 1, max: 250_000 }),
      }),
      { minLength: 1, maxLength: 8 },
    );
    fc.assert(
      fc.property(zones, (own) => {
        const { byZone, byProduct, total } = plan(own);
        const seeds = byZone.reduce((sum, row) => sum + row.seeds, 0);
        if (total.seeds !== seeds || byProduct.reduce((sum, row) => sum + row.seeds, 0) !== seeds)
          return false;
        if (
          !byZone.every(
            (row) =>
              Number.isInteger(row.seeds) && Math.abs(row.seeds - row.acres * row.seedsPerAc) <= 0.5 + 1e-6,
          )
        )
          return false;
        return (['acres', 'units', 'seedCost'] as const).every((key) => {
          const sum = byZone.reduce((all, row) => all + row[key], 0);
          return Math.abs(sum - total[key]) <= 1e-9 * (1 + sum);
        });
      }),
      { seed: 1, numRuns: 500 },
    );
  });
});
