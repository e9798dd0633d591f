import { describe, expect, it } from 'vitest';
import { treatedSeed } from '../../../src/engine/lineup/treated-seed.ts';
import { orderOf } from '../../../src/engine/prescription/order.ts';
import { product } from '../lineup/small-lineup.ts';

/** 80,000 seeds a unit at $240, and so many seeds planted. */
const line = (seeds: number, terms: Partial<Parameters<typeof orderOf>[2]> = {}, own = product()) =>
  orderOf(
    [{ product: 0, productName: 'A', acres: 1, seeds, units: seeds / 80_000, seedCost: 0, treatmentCost: 0 }],
    [own],
    { spare: 0, unitsPerBox: null, ...terms },
  )[0];

describe('an order', () => {
  it('is whole units, a part of one being one', () => {
    expect(line(3_200_000)).toMatchObject({ units: 40, boxes: null, spareSeeds: 0, cost: 9600 });
    expect(line(3_200_001).units).toBe(41);
    expect(line(1).units).toBe(1);
  });

  it('holds the spare, of seeds and not of units', () => {
    // 3 % of 3,200,000 are 96,000: 41.2 units.
    expect(line(3_200_000, { spare: 0.03 })).toMatchObject({ spareSeeds: 96_000, units: 42, cost: 10_080 });
  });

  it('is whole boxes where seed comes in boxes, and all of a box is paid', () => {
    expect(line(3_200_001, { unitsPerBox: 45 })).toMatchObject({ boxes: 1, units: 45, cost: 10_800 });
    expect(line(3_700_000, { unitsPerBox: 45 })).toMatchObject({ boxes: 2, units: 90 });
    expect(line(3_600_000, { unitsPerBox: 45 }).boxes).toBe(1);
  });

  it('has the treatments bought in its price, and no others', () => {
    const treatments = [
      { name: 'Seedling guard', pricePerUnit: 12, protectsAgainst: ['damping off'] },
      { name: 'Root guard', pricePerUnit: 20, protectsAgainst: [] },
    ];
    const own = treatedSeed(product({ treatments }), ['Seedling guard', 'something else']);
    expect(own.treatments.map(({ name }) => name)).toEqual(['Seedling guard']);
    expect(line(80_000, {}, own).cost).toBe(252);
  });
});
