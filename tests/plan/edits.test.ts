import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Edited } from '../../src/plan/edits/edit.ts';
import { setDryingHauling, setGrainPrice } from '../../src/plan/edits/set-money.ts';
import { setByHand, setEmergence, setHoppers, setRateStep } from '../../src/plan/edits/set-rates.ts';
import { setZoneCount, setZoneMethod } from '../../src/plan/edits/set-zones.ts';
import type { Plan } from '../../src/plan/schema.ts';
import { readPlan } from '../../src/plan/validate.ts';
import { plan } from './small-plan.ts';

const base = plan({
  money: { grainPrice_perBu: 4.5, dryingHauling_perBu: 0.3 },
  zones: { count: 3, names: ['Hill', 'Slope', 'Bottom'] },
  rates: { byHand: [{ zone: 3, seedsPerAc: 30_000 }] },
});

function done(edited: Edited): Plan {
  if (!edited.plan) throw new Error(edited.refused);
  return edited.plan;
}

describe('an edit', () => {
  it('changes what it says and nothing else', () => {
    expect(done(setGrainPrice(base, 5.1))).toEqual({
      ...base,
      money: { ...base.money, grainPrice_perBu: 5.1 },
    });
    expect(done(setDryingHauling(base, 0))).toEqual({
      ...base,
      money: { ...base.money, dryingHauling_perBu: 0 },
    });
    expect(done(setEmergence(base, 0.9))).toEqual({ ...base, rates: { ...base.rates, emergence: 0.9 } });
    expect(done(setHoppers(base, 4))).toEqual({ ...base, rates: { ...base.rates, hoppers: 4 } });
    expect(done(setRateStep(base, 1000))).toEqual({
      ...base,
      rates: { ...base.rates, step_seedsPerAc: 1000 },
    });
    expect(done(setZoneMethod(base, 'fuzzy-c-means'))).toEqual({
      ...base,
      zones: { ...base.zones, method: 'fuzzy-c-means' },
    });
  });

  it('of the number of zones drops names that no longer fit and choices by hand of zones that go', () => {
    expect(done(setZoneCount(base, 2))).toEqual({
      ...base,
      zones: { ...base.zones, count: 2, names: null },
      rates: { ...base.rates, byHand: [] },
    });
    expect(done(setZoneCount(base, 3))).toEqual(base);
  });

  it('by hand sets, replaces and takes back a choice, in the order of zones', () => {
    const first = done(setByHand(base, 1, 'a', null));
    expect(first.rates.byHand).toEqual([
      { zone: 1, product: 'a', seedsPerAc: null },
      { zone: 3, product: null, seedsPerAc: 30_000 },
    ]);
    const replaced = done(setByHand(first, 3, 'b', 28_000));
    expect(replaced.rates.byHand[1]).toEqual({ zone: 3, product: 'b', seedsPerAc: 28_000 });
    expect(done(setByHand(replaced, 1, null, null)).rates.byHand).toHaveLength(1);
  });

  it.each<[string, () => Edited]>([
    ['a grain price at the cost of drying', () => setGrainPrice(base, 0.3)],
    ['a grain price that is no number', () => setGrainPrice(base, Number.NaN)],
    ['a grain price without end', () => setGrainPrice(base, Infinity)],
    ['drying that costs what the grain brings', () => setDryingHauling(base, 4.5)],
    ['drying that pays', () => setDryingHauling(base, -0.1)],
    ['drying that is no number', () => setDryingHauling(base, Number.NaN)],
    ['emergence of nothing', () => setEmergence(base, 0)],
    ['emergence over 1', () => setEmergence(base, 1.01)],
    ['no hopper', () => setHoppers(base, 0)],
    ['five hoppers', () => setHoppers(base, 5)],
    ['a hopper and a half', () => setHoppers(base, 1.5)],
    ['a step of nothing', () => setRateStep(base, 0)],
    ['a step of half a seed', () => setRateStep(base, 0.5)],
    ['no zones', () => setZoneCount(base, 0)],
    ['nine zones', () => setZoneCount(base, 9)],
    ['zones that are no number', () => setZoneCount(base, Number.NaN)],
    ['a rate of no seeds', () => setByHand(base, 1, null, 0)],
    ['a rate of half seeds', () => setByHand(base, 1, null, 30_000.5)],
    ['a choice for zone 0', () => setByHand(base, 0, 'a', null)],
    ['a choice for half a zone', () => setByHand(base, 1.5, 'a', null)],
    ['a product without an id', () => setByHand(base, 1, '', null)],
  ])('refuses %s, with a sentence', (_, edit) => {
    const { plan: changed, refused } = edit();
    expect(changed).toBeNull();
    expect(refused).toMatch(/^[A-Z].*\.$/);
  });

  it('never changes the plan it was given, and never makes one that cannot be read', () => {
    const before = JSON.stringify(base);
    const value = fc.oneof(
      fc.double(),
      fc.integer({ min: -2, max: 10 }),
      fc.constantFrom(0.5, 0.95, 4, 500, 30_000),
    );
    const edits: ((own: Plan, a: number, b: number) => Edited)[] = [
      setGrainPrice,
      setDryingHauling,
      setEmergence,
      setHoppers,
      setRateStep,
      setZoneCount,
      (own, a) => setZoneMethod(own, a > 0 ? 'natural-breaks' : 'fuzzy-c-means'),
      (own, a, b) => setByHand(own, a, b > 3 ? 'a' : null, b),
      (own, a) => setByHand(own, a, null, null),
    ];
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.nat(edits.length - 1), value, value), { maxLength: 12 }), (steps) => {
        let own = base;
        for (const [which, a, b] of steps) {
          const held = JSON.stringify(own);
          const edited = edits[which](own, a, b);
          if (JSON.stringify(own) !== held) return false;
          own = edited.plan ?? own;
        }
        const again = readPlan(JSON.parse(JSON.stringify(own)), 'edited');
        return JSON.stringify(base) === before && again.value !== null;
      }),
      { seed: 1, numRuns: 1000 },
    );
  });
});
