import type { Plan } from '../schema.ts';
import { done, type Edited, refused } from './edit.ts';

/** Say what the grower usually plants, a product by its id and one rate for the field; null takes it back. */
export function setUsual(plan: Plan, usual: Plan['worth']['usual']): Edited {
  if (usual !== null) {
    if (usual.product === '') return refused('A product is named by its id.');
    if (!(Number.isInteger(usual.seedsPerAc) && usual.seedsPerAc > 0 && usual.seedsPerAc <= 1_000_000))
      return refused('A rate is a whole number of seeds an acre.');
  }
  return done({ ...plan, worth: { ...plan.worth, usual } });
}

/** Set one of the assumed spreads, a share: of the grain price, of the yield of the whole field, of a zone from year to year, between products never tried together. */
export function setSpread(
  plan: Plan,
  of: 'priceSpread' | 'levelSpread' | 'yearToYear' | 'apartSpread',
  share: number,
): Edited {
  if (!(share >= 0 && share <= 0.5)) return refused('A spread lies between 0 and 50 %.');
  return done({ ...plan, worth: { ...plan.worth, [of]: share } });
}

/** Set what planting by map costs over planting flat, $/ac. */
export function setMapCost(plan: Plan, mapCost_perAc: number): Edited {
  if (!(mapCost_perAc >= 0 && mapCost_perAc <= 1000)) return refused('A cost is $0 or more.');
  return done({ ...plan, worth: { ...plan.worth, mapCost_perAc } });
}
