import type { Plan } from '../schema.ts';
import { done, type Edited, refused } from './edit.ts';

/** Set emergence, plants standing per seed dropped. */
export function setEmergence(plan: Plan, emergence: number): Edited {
  if (!(emergence >= 0.3 && emergence <= 1)) return refused('Emergence lies between 30 and 100 %.');
  return done({ ...plan, rates: { ...plan.rates, emergence } });
}

/** Set how many products the planter can carry. */
export function setHoppers(plan: Plan, hoppers: number): Edited {
  if (!(Number.isInteger(hoppers) && hoppers >= 1 && hoppers <= 4))
    return refused('A planter carries one to four products.');
  return done({ ...plan, rates: { ...plan.rates, hoppers } });
}

/** Set the step rates are rounded to, seeds/ac. */
export function setRateStep(plan: Plan, step_seedsPerAc: number): Edited {
  if (!(Number.isInteger(step_seedsPerAc) && step_seedsPerAc >= 1 && step_seedsPerAc <= 20_000)) {
    return refused('The step is a whole number of seeds from 1 to 20,000.');
  }
  return done({ ...plan, rates: { ...plan.rates, step_seedsPerAc } });
}

/** Set product and rate of a zone by hand (zone from 1); null for both takes the choice back to the engine. */
export function setByHand(
  plan: Plan,
  zone: number,
  product: string | null,
  seedsPerAc: number | null,
): Edited {
  if (!(Number.isSafeInteger(zone) && zone >= 1)) return refused('Zones are numbered from 1.');
  if (product === '') return refused('A product is named by its id.');
  if (seedsPerAc !== null && !(Number.isInteger(seedsPerAc) && seedsPerAc > 0 && seedsPerAc <= 1_000_000)) {
    return refused('A rate is a whole number of seeds an acre.');
  }
  const others = plan.rates.byHand.filter((choice) => choice.zone !== zone);
  const own = product === null && seedsPerAc === null ? [] : [{ zone, product, seedsPerAc }];
  const byHand = [...others, ...own].sort((a, b) => a.zone - b.zone);
  return done({ ...plan, rates: { ...plan.rates, byHand } });
}
