import type { Plan } from '../schema.ts';
import { done, type Edited, refused } from './edit.ts';

/** Set the number of zones. Names are kept only when there is one for each. */
export function setZoneCount(plan: Plan, count: number): Edited {
  if (!(Number.isInteger(count) && count >= 1 && count <= 8))
    return refused('A field takes one to eight zones.');
  const names = plan.zones.names?.length === count ? plan.zones.names : null;
  const byHand = plan.rates.byHand.filter((choice) => choice.zone <= count);
  return done({ ...plan, zones: { ...plan.zones, count, names }, rates: { ...plan.rates, byHand } });
}

export function setZoneMethod(plan: Plan, method: Plan['zones']['method']): Edited {
  return done({ ...plan, zones: { ...plan.zones, method } });
}
