import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ZoneOption } from '../../../src/engine/rates/assignment.ts';
import { chooseProducts } from '../../../src/engine/rates/choose-products.ts';

/** A zone's options from margins by product; null where a product is not open. */
function zone(...margins: readonly (number | null)[]): ZoneOption[] {
  return margins.flatMap((marginPerAc, product) =>
    marginPerAc === null
      ? []
      : [
          {
            product,
            seedsPerAc: 30_000,
            plantsPerAc: 30_000,
            yield_buPerAc: 200,
            seedCostPerAc: 90,
            marginPerAc,
            economicOptimum_plantsPerAc: 30_000,
            bound: [],
            boundCostsPerAc: 0,
          },
        ],
  );
}

const chosen = (options: ZoneOption[][], area: number[], hoppers: number) =>
  chooseProducts(options, area, hoppers)?.map((choice) => choice.chosen.product) ?? null;

describe('products chosen under a number of hoppers', () => {
  const options = [zone(100, 90, 80), zone(50, 70, 65), zone(10, 20, 60)];

  it('are the best of each zone when there are hoppers enough', () => {
    expect(chosen(options, [1, 1, 1], 3)).toEqual([0, 1, 2]);
    expect(chosen(options, [1, 1, 1], 4)).toEqual([0, 1, 2]);
  });

  it('earn most over the field, not zone by zone: 0 and 2 in two hoppers, 2 alone in one', () => {
    // Pairs earn 100+70+20, 100+65+60 and 90+70+60; singles 160, 180 and 205.
    expect(chosen(options, [1, 1, 1], 2)).toEqual([0, 2, 2]);
    expect(chosen(options, [1, 1, 1], 1)).toEqual([2, 2, 2]);
  });

  it('weigh zones by acres', () => {
    expect(chosen(options, [100, 1, 1], 1)).toEqual([0, 0, 0]);
  });

  it('are fewer, and earlier in the lineup, where more earn the same', () => {
    expect(chosen([zone(50, 50), zone(40, 40)], [10, 10], 2)).toEqual([0, 0]);
    // A cent on the whole field is no reason for a second product.
    expect(chosen([zone(50, 50.0005), zone(40, 40)], [10, 10], 2)).toEqual([0, 0]);
    expect(chosen([zone(50, 50.1), zone(40, 39)], [10, 10], 2)).toEqual([1, 0]);
  });

  it('are none where no set serves every zone', () => {
    expect(chosen([zone(50, null), zone(null, 40)], [1, 1], 1)).toBeNull();
    expect(chosen([zone(50, null), zone(null, 40)], [1, 1], 2)).toEqual([0, 1]);
  });

  it('come with every option of the zone behind them, best first', () => {
    const [first] = chooseProducts([zone(5, 9, 7)], [1], 1) ?? [];
    expect(first.options.map((option) => option.product)).toEqual([1, 2, 0]);
    expect(first.zone).toBe(0);
  });

  it('earn within a cent of the best of all ways to plant', () => {
    const anyMargin = fc.option(
      fc.oneof(fc.integer({ min: -50, max: 900 }), fc.integer({ min: 0, max: 3 })),
      {
        freq: 6,
      },
    );
    fc.assert(
      fc.property(
        fc.tuple(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 1, max: 5 })).chain(([zones, products]) =>
          fc.tuple(
            fc.array(fc.array(anyMargin, { minLength: products, maxLength: products }), {
              minLength: zones,
              maxLength: zones,
            }),
            fc.array(fc.double({ min: 0.1, max: 100, noNaN: true }), { minLength: zones, maxLength: zones }),
            fc.integer({ min: 1, max: 4 }),
          ),
        ),
        ([margins, area, hoppers]) => {
          const found = chooseProducts(
            margins.map((own) => zone(...own)),
            area,
            hoppers,
          );
          // Every product in every zone, kept when the products fit the hoppers.
          let best = -Infinity;
          const walk = (k: number, used: ReadonlySet<number>, total: number): void => {
            if (used.size > hoppers) return;
            if (k === margins.length) {
              best = Math.max(best, total);
              return;
            }
            margins[k].forEach((margin, product) => {
              if (margin !== null) walk(k + 1, new Set(used).add(product), total + margin * area[k]);
            });
          };
          walk(0, new Set(), 0);
          if (found === null) return best === -Infinity;
          const total = found.reduce((sum, choice, k) => sum + choice.chosen.marginPerAc * area[k], 0);
          const used = new Set(found.map((choice) => choice.chosen.product));
          return used.size <= hoppers && total <= best + 1e-6 && total >= best - 0.01 - 1e-6;
        },
      ),
      { seed: 1, numRuns: 500 },
    );
  });

  it('are tried from a long lineup: most products are beaten everywhere, and the rest are few', () => {
    // 120 products by their strength and their answer to the ground: only those on the upper edge can lead a zone.
    const ground = [-3, -2, -1, 0, 1, 2, 3];
    const margins = ground.map((e) =>
      Array.from({ length: 120 }, (_, p) => 500 - (p % 12) * 3 + ((p * 7) % 11) * e),
    );
    const area = ground.map((_, k) => 10 + k);
    const found = chosen(
      margins.map((own) => zone(...own)),
      area,
      4,
    );
    const total = (products: readonly number[]) =>
      products.reduce((sum, product, k) => sum + margins[k][product] * area[k], 0);
    // Four hoppers hold the two that lead at the ends, so every zone has its own best.
    expect(total(found ?? [])).toBeCloseTo(total(margins.map((own) => own.indexOf(Math.max(...own)))), 9);
    expect(new Set(found).size).toBeLessThanOrEqual(4);
  });

  it('are found among many none of which is beaten everywhere', () => {
    // Every product gives in one zone what it gains in another: 8,502,670 sets of up to four.
    const each = Array.from({ length: 120 }, (_, p) => p);
    const options = [each, each.map((p) => -p), each.map(() => 0), each.map(() => 0)].map((own) =>
      zone(...own),
    );
    expect(chosen(options, [1, 1, 1, 1], 4)?.slice(0, 2)).toEqual([119, 0]);
    expect(chosen(options, [1, 1, 1, 1], 1)).toEqual([0, 0, 0, 0]);
  });

  it('keep a product set by hand, though another beats it elsewhere', () => {
    expect(chosen([zone(50, null), zone(40, 90), zone(40, 90)], [1, 1, 1], 2)).toEqual([0, 1, 1]);
    expect(chosen([zone(50, null), zone(40, 90), zone(40, 90)], [1, 1, 1], 1)).toEqual([0, 0, 0]);
  });
});
