import { CLEANING_RULES } from '../../engine/harvest/clean-harvest.ts';
import type { Plan } from '../schema.ts';
import { yieldId } from '../yield-id.ts';
import { done, type Edited, refused } from './edit.ts';

type YieldPlan = Plan['evidence']['yields'][number];

/** Take a yield map in or leave it out. */
export function setYieldUse(plan: Plan, id: string, use: boolean): Edited {
  return change(plan, id, () => ({ use }));
}

/** How much a year counts in the mean of years. */
export function setYearWeight(plan: Plan, id: string, weight: number): Edited {
  if (!(weight >= 0 && weight <= 10)) return refused('A year counts from 0 to 10 times.');
  return change(plan, id, () => ({ weight }));
}

/** Call a year unusual: it is looked at, and not counted. */
export function setUnusual(plan: Plan, id: string, unusual: boolean): Edited {
  const counted = plan.evidence.yields.filter((map) => map.use && !map.unusual);
  if (unusual && counted.length === 1 && yieldId(counted[0]) === id)
    return refused('The last year that counts cannot be called unusual.');
  return change(plan, id, () => ({ unusual }));
}

/** The seconds the grain took to the sensor; null lets the data say. */
export function setDelay(plan: Plan, id: string, delay_s: number | null): Edited {
  if (delay_s !== null && !(delay_s >= -30 && delay_s <= 60))
    return refused('The delay lies between −30 and 60 seconds.');
  return change(plan, id, () => ({ delay_s }));
}

/** How points become a surface. */
export function setSurface(plan: Plan, id: string, surface: YieldPlan['surface']): Edited {
  return change(plan, id, () => ({ surface }));
}

/** Use a cleaning rule or leave it. */
export function setRuleUse(plan: Plan, rule: string, use: boolean): Edited {
  if (!Object.hasOwn(plan.evidence.cleaning, rule)) return refused('There is no such rule.');
  const before = plan.evidence.cleaning[rule];
  const cleaning = { ...plan.evidence.cleaning, [rule]: { ...before, use } };
  return done({ ...plan, evidence: { ...plan.evidence, cleaning } });
}

/** Set a threshold of a cleaning rule. */
export function setThreshold(plan: Plan, rule: string, name: string, value: number): Edited {
  const before = plan.evidence.cleaning[rule];
  if (!before || !Object.hasOwn(before.thresholds, name)) return refused('There is no such threshold.');
  if (!Number.isFinite(value)) return refused('A threshold is a number.');
  const limits = CLEANING_RULES.find(({ id }) => id === rule)?.thresholds[name];
  if (limits && !(value >= limits.least && value <= limits.most))
    return refused(`It lies between ${limits.least} and ${limits.most}${limits.unit && ` ${limits.unit}`}.`);
  const thresholds = { ...before.thresholds, [name]: value };
  const cleaning = { ...plan.evidence.cleaning, [rule]: { ...before, thresholds } };
  return done({ ...plan, evidence: { ...plan.evidence, cleaning } });
}

function change(plan: Plan, id: string, to: (map: YieldPlan) => Partial<YieldPlan>): Edited {
  if (!plan.evidence.yields.some((map) => yieldId(map) === id)) return refused('There is no such yield map.');
  const yields = plan.evidence.yields.map((map) => (yieldId(map) === id ? { ...map, ...to(map) } : map));
  return done({ ...plan, evidence: { ...plan.evidence, yields } });
}
