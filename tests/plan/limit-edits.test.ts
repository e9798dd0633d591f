import { describe, expect, it } from 'vitest';
import type { Edited } from '../../src/plan/edits/edit.ts';
import {
  setHighestRate,
  setLeastAcres,
  setLowestRate,
  setMostShare,
  setMustUse,
  setOnHand,
  setPlanter,
  setSpare,
  setTreatment,
  setUnitsPerBox,
} from '../../src/plan/edits/set-limits.ts';
import { setMapCost, setSpread, setUsual } from '../../src/plan/edits/set-worth.ts';
import type { Plan } from '../../src/plan/schema.ts';
import { readPlan } from '../../src/plan/validate.ts';
import { plan } from './small-plan.ts';

const base = plan({ rates: { mustUse: ['a'], onHand: [{ product: 'a', units: 4 }], treatments: ['Guard'] } });
const planter = { row_in: 30, speed_mph: 6, mostSeedsPerSecond: 40 };
const usual = { product: 'a', seedsPerAc: 32_000 };

/** What an edit changes, and the change it makes. */
const edits: readonly [string, (plan: Plan) => Edited, { rates?: object; worth?: object }][] = [
  ['lowest rate', (own) => setLowestRate(own, 24_000), { rates: { lowest_seedsPerAc: 24_000 } }],
  ['highest rate', (own) => setHighestRate(own, 36_000), { rates: { highest_seedsPerAc: 36_000 } }],
  ['no highest rate', (own) => setHighestRate(own, null), { rates: { highest_seedsPerAc: null } }],
  ['least acres', (own) => setLeastAcres(own, 20), { rates: { leastAcres: 20 } }],
  ['most share', (own) => setMostShare(own, 0.6), { rates: { mostShare: 0.6 } }],
  ['must use', (own) => setMustUse(own, 'b', true), { rates: { mustUse: ['a', 'b'] } }],
  ['must use twice', (own) => setMustUse(own, 'a', true), { rates: { mustUse: ['a'] } }],
  ['must use no longer', (own) => setMustUse(own, 'a', false), { rates: { mustUse: [] } }],
  ['seed on hand', (own) => setOnHand(own, 'a', 7), { rates: { onHand: [{ product: 'a', units: 7 }] } }],
  ['seed to be had', (own) => setOnHand(own, 'a', null), { rates: { onHand: [] } }],
  ['planter', (own) => setPlanter(own, planter), { rates: { planter } }],
  ['treatment', (own) => setTreatment(own, 'Other', true), { rates: { treatments: ['Guard', 'Other'] } }],
  ['treatment no longer', (own) => setTreatment(own, 'Guard', false), { rates: { treatments: [] } }],
  ['spare', (own) => setSpare(own, 0.03), { rates: { spare: 0.03 } }],
  ['boxes', (own) => setUnitsPerBox(own, 45), { rates: { unitsPerBox: 45 } }],
  ['map cost', (own) => setMapCost(own, 2), { worth: { mapCost_perAc: 2 } }],
  ['spread', (own) => setSpread(own, 'priceSpread', 0.2), { worth: { priceSpread: 0.2 } }],
  ['usual', (own) => setUsual(own, usual), { worth: { usual } }],
];

describe('an edit of limits, the order or the worth', () => {
  it.each(edits)(
    '%s changes what it says and nothing else, and leaves a plan that can be read',
    (_, edit, change) => {
      const { plan: made } = edit(base);
      expect(made).toEqual({
        ...base,
        rates: { ...base.rates, ...change.rates },
        worth: { ...base.worth, ...change.worth },
      });
      expect(readPlan(JSON.parse(JSON.stringify(made)), 'plan').issues).toEqual([]);
    },
  );

  it.each<[string, Edited]>([
    [
      'a lowest rate over the highest',
      setLowestRate(plan({ rates: { highest_seedsPerAc: 30_000 } }), 31_000),
    ],
    [
      'a highest rate under the lowest',
      setHighestRate(plan({ rates: { lowest_seedsPerAc: 30_000 } }), 29_000),
    ],
    ['half a seed', setLowestRate(base, 0.5)],
    ['no highest rate at all', setHighestRate(base, 0)],
    ['acres under nothing', setLeastAcres(base, -1)],
    ['a share of nothing', setMostShare(base, 0)],
    ['a share over the field', setMostShare(base, 1.2)],
    ['a product without a name', setMustUse(base, '', true)],
    ['units under nothing', setOnHand(base, 'a', -2)],
    ['a row of an inch', setPlanter(base, { ...planter, row_in: 1 })],
    ['a planter that stands', setPlanter(base, { ...planter, speed_mph: 0 })],
    ['a meter that drops nothing', setPlanter(base, { ...planter, mostSeedsPerSecond: 0 })],
    ['spare seed of the whole', setSpare(base, 1)],
    ['a box of nothing', setUnitsPerBox(base, 0)],
    ['a map that pays for itself', setMapCost(base, -3)],
    ['a spread over half', setSpread(base, 'levelSpread', 0.6)],
    ['a usual rate of nothing', setUsual(base, { ...usual, seedsPerAc: 0 })],
    ['figures that are none', setLeastAcres(base, Number.NaN)],
  ])('refuses %s, in words', (_, { refused }) => {
    expect(refused).toMatch(/^[A-Z].*\.$/);
  });
});
