import highs from 'highs';
import { describe, expect, it } from 'vitest';
import { random } from '../../../src/engine/math/random.ts';
import type { ProductRow } from '../../../src/engine/rates/assign-within.ts';
import { chooseUnderLimits } from '../../../src/engine/rates/choose-under-limits.ts';
import { NO_PRODUCT_LIMITS } from '../../../src/engine/rates/product-limits.ts';
import { anyCase, type Case, programme } from './limited-fields.ts';

const rowOf = ({ rows }: Case, product: number) => rows.find((row) => row.product === product)!;
const earned = (own: Case, planted: readonly number[]) =>
  planted.reduce((sum, product, zone) => sum + rowOf(own, product).earns[zone], 0);

function keeps(own: Case, planted: readonly number[]): boolean {
  const { area_ac, hoppers, limits } = own;
  const used = [...new Set(planted)];
  return (
    used.length <= hoppers &&
    Number.isFinite(earned(own, planted)) &&
    limits.mustUse.every((product) => used.includes(product)) &&
    used.every((product) => {
      const zones = planted.flatMap((at, zone) => (at === product ? [zone] : []));
      const acres = zones.reduce((sum, zone) => sum + area_ac[zone], 0);
      const seeds = zones.reduce((sum, zone) => sum + rowOf(own, product).seeds[zone], 0);
      const hair = 1e-9;
      return (
        acres >= limits.leastAcres * (1 - hair) &&
        acres <= limits.mostAcres * (1 + hair) &&
        seeds <= (limits.seedsOnHand.get(product) ?? Infinity) * (1 + hair)
      );
    })
  );
}

/** The most any way to plant the field earns, every way tried; −Infinity where none keeps the limits. */
function mostOfAll(own: Case): number {
  let most = -Infinity;
  const planted: number[] = [];
  const plant = (): void => {
    if (planted.length === own.area_ac.length) {
      if (keeps(own, planted)) most = Math.max(most, earned(own, planted));
      return;
    }
    for (const { product } of own.rows) {
      planted.push(product);
      plant();
      planted.pop();
    }
  };
  plant();
  return most;
}

const solve = ({ rows, area_ac, hoppers, limits }: Case) =>
  chooseUnderLimits(rows, area_ac, Math.min(hoppers, rows.length), limits);

describe('products chosen under limits', () => {
  it('earn within a cent of the best of all ways to plant (500 seeded fields), and none are found only where there are none', () => {
    const stream = random(2027);
    let none = 0;
    for (let k = 0; k < 500; k++) {
      const own = anyCase(stream, 2 + stream.integer(4), 2 + stream.integer(4));
      const planted = solve(own);
      const most = mostOfAll(own);
      if (planted === null) {
        none++;
        expect(most).toBe(-Infinity);
      } else {
        expect(keeps(own, planted)).toBe(true);
        expect(earned(own, planted)).toBeGreaterThan(most - 0.01 - 1e-6);
      }
    }
    // Both ends are met.
    expect(none).toBeGreaterThan(20);
    expect(none).toBeLessThan(400);
  });

  // HiGHS (Huangfu & Hall 2018, Mathematical Programming Computation 10:119) on the same field as a mixed-integer programme.
  it('earn what a mixed-integer solver finds (50 seeded fields of 12 products and 8 zones)', async () => {
    const solver = await highs();
    const stream = random(1905);
    for (let k = 0; k < 50; k++) {
      const own = anyCase(stream, 12, 8);
      const planted = solve(own);
      const { Status, ObjectiveValue } = solver.solve(programme(own), { mip_rel_gap: 0 });
      if (planted === null) expect(Status).toBe('Infeasible');
      else {
        expect(Status).toBe('Optimal');
        // A cent of ours, and the solver's own tolerance of 1e-6 on what is whole.
        expect(Math.abs(earned(own, planted) - ObjectiveValue)).toBeLessThan(0.05);
      }
    }
  });

  it('keep limits met to the acre and to the seed', () => {
    const row = (product: number, each: number): ProductRow => ({
      ...{ product, earns: Float64Array.of(each * 0.1, each * 0.2), seeds: Float64Array.of(3000, 6000) },
    });
    const rows = [row(0, 700), row(1, 600)];
    const area = [0.1, 0.2];
    const limits = { ...NO_PRODUCT_LIMITS, mostAcres: 0.1 + 0.2, seedsOnHand: new Map([[0, 9000]]) };
    expect(chooseUnderLimits(rows, area, 2, limits)).toEqual([0, 0]);
    expect(chooseUnderLimits(rows, area, 2, { ...limits, seedsOnHand: new Map([[0, 8999]]) })).toEqual([
      1, 0,
    ]);
    expect(chooseUnderLimits(rows, area, 2, { ...limits, mustUse: [1] })).toEqual([1, 0]);
    expect(chooseUnderLimits(rows, area, 1, { ...limits, mustUse: [1] })).toEqual([1, 1]);
    expect(chooseUnderLimits(rows, area, 2, { ...limits, mustUse: [7] })).toBeNull();
  });

  it('are found in a long lineup, with limits that none but a few can keep and with such as nobody can', async () => {
    const solver = await highs();
    const own = { ...anyCase(random(847), 300, 8), hoppers: 4 };
    const acres = own.area_ac.reduce((sum, zone) => sum + zone, 0);
    const tight = {
      ...own.limits,
      ...{ leastAcres: 0.2 * acres, mostAcres: 0.3 * acres, mustUse: [10, 90], seedsOnHand: new Map() },
    };
    const planted = solve({ ...own, limits: tight });
    const { Status, ObjectiveValue } = solver.solve(programme({ ...own, limits: tight }), { mip_rel_gap: 0 });
    expect(Status).toBe('Optimal');
    expect(keeps({ ...own, limits: tight }, planted ?? [])).toBe(true);
    expect(Math.abs(earned(own, planted ?? []) - ObjectiveValue)).toBeLessThan(0.05);
    expect(solve({ ...own, limits: { ...tight, mostAcres: 0.24 * acres } })).toBeNull();
  });
});
