import type { Plan } from '../schema.ts';
import { done, type Edited, refused } from './edit.ts';

/** Set the grain price, $/bu. */
export function setGrainPrice(plan: Plan, price_perBu: number): Edited {
  if (!(price_perBu > plan.money.dryingHauling_perBu && price_perBu < 1000)) {
    return refused('The grain price must be over the cost of drying and hauling.');
  }
  return done({ ...plan, money: { ...plan.money, grainPrice_perBu: price_perBu } });
}

/** Set the cost of drying and hauling, $/bu. */
export function setDryingHauling(plan: Plan, cost_perBu: number): Edited {
  const price = plan.money.grainPrice_perBu ?? Infinity;
  if (!(cost_perBu >= 0 && cost_perBu < price))
    return refused('Drying and hauling must cost less than the grain brings.');
  return done({ ...plan, money: { ...plan.money, dryingHauling_perBu: cost_perBu } });
}
