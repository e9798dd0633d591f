import type { Plan } from '../schema.ts';
import { done, type Edited, refused } from './edit.ts';

type Rates = Plan['rates'];

const withRates = (plan: Plan, change: Partial<Rates>): Edited =>
  done({ ...plan, rates: { ...plan.rates, ...change } });

/** Set the lowest rate, seeds/ac; 0 for none. */
export function setLowestRate(plan: Plan, lowest_seedsPerAc: number): Edited {
  if (!(Number.isInteger(lowest_seedsPerAc) && lowest_seedsPerAc >= 0))
    return refused('The lowest rate is a whole number of seeds an acre.');
  const { highest_seedsPerAc: highest } = plan.rates;
  if (highest !== null && lowest_seedsPerAc > highest)
    return refused('The lowest rate must not be over the highest.');
  return withRates(plan, { lowest_seedsPerAc });
}

/** Set the highest rate, seeds/ac; null for none. */
export function setHighestRate(plan: Plan, highest_seedsPerAc: number | null): Edited {
  if (highest_seedsPerAc !== null) {
    const whole = Number.isInteger(highest_seedsPerAc) && highest_seedsPerAc > 0;
    if (!(whole && highest_seedsPerAc <= 1_000_000))
      return refused('The highest rate is a whole number of seeds an acre.');
    if (highest_seedsPerAc < plan.rates.lowest_seedsPerAc)
      return refused('The highest rate must not be under the lowest.');
  }
  return withRates(plan, { highest_seedsPerAc });
}

/** Set the least acres of a product that is planted at all; 0 for no such limit. */
export function setLeastAcres(plan: Plan, leastAcres: number): Edited {
  if (!(leastAcres >= 0 && leastAcres <= 100_000)) return refused('Acres are 0 or more.');
  return withRates(plan, { leastAcres });
}

/** Set the most of the field one product may cover, a share; 1 for no such limit. */
export function setMostShare(plan: Plan, mostShare: number): Edited {
  if (!(mostShare > 0 && mostShare <= 1)) return refused('A product may cover over 0 and up to 100 %.');
  return withRates(plan, { mostShare });
}

/** Say that a product, by its id, is to be planted whatever it earns, or no longer. */
export function setMustUse(plan: Plan, product: string, must: boolean): Edited {
  if (product === '') return refused('A product is named by its id.');
  const others = plan.rates.mustUse.filter((own) => own !== product);
  return withRates(plan, { mustUse: must ? [...others, product] : others });
}

/** Say how many units there are of a product, where no more is to be had; null where more is. */
export function setOnHand(plan: Plan, product: string, units: number | null): Edited {
  if (product === '') return refused('A product is named by its id.');
  if (units !== null && !(units >= 0 && units <= 1_000_000)) return refused('Units are 0 or more.');
  const others = plan.rates.onHand.filter((own) => own.product !== product);
  return withRates(plan, { onHand: units === null ? others : [...others, { product, units }] });
}

/** Say what the planter can do; null for no limit of it. */
export function setPlanter(plan: Plan, planter: Rates['planter']): Edited {
  if (planter !== null) {
    const { row_in, speed_mph, mostSeedsPerSecond } = planter;
    if (!(row_in >= 4 && row_in <= 80)) return refused('Rows are 4 to 80 inches wide.');
    if (!(speed_mph >= 0.5 && speed_mph <= 20)) return refused('A planter drives at 0.5 to 20 mph.');
    if (!(mostSeedsPerSecond >= 1 && mostSeedsPerSecond <= 1000))
      return refused('A meter drops 1 to 1,000 seeds a second.');
  }
  return withRates(plan, { planter });
}

/** Buy seed with a treatment of that name, or no longer. */
export function setTreatment(plan: Plan, name: string, buy: boolean): Edited {
  if (name === '') return refused('A treatment is named.');
  const others = plan.rates.treatments.filter((own) => own !== name);
  return withRates(plan, { treatments: buy ? [...others, name] : others });
}

/** Set the seed ordered over what is planted, a share. */
export function setSpare(plan: Plan, spare: number): Edited {
  if (!(spare >= 0 && spare <= 0.25)) return refused('Spare seed is 0 to 25 %.');
  return withRates(plan, { spare });
}

/** Set the units in a box; null where seed comes by the unit. */
export function setUnitsPerBox(plan: Plan, unitsPerBox: number | null): Edited {
  if (unitsPerBox !== null && !(unitsPerBox > 0 && unitsPerBox <= 1000))
    return refused('A box holds over 0 and up to 1,000 units.');
  return withRates(plan, { unitsPerBox });
}
