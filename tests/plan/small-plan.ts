import type { Plan, PlanInput } from '../../src/plan/schema.ts';
import { readPlan } from '../../src/plan/validate.ts';

const entry = (id: string) => ({ id, file: `${id}.geojson`, sha256: '0'.repeat(64) });

/** A plan as little as may be written: everything else has a default. */
export const least: PlanInput = {
  document: 'eachacre-plan',
  version: 1,
  name: 'Small field',
  season: 2027,
  crop: 'corn',
  sources: ['boundary', 'soils', 'yield', 'lineup'].map(entry),
  field: { boundary: 'boundary' },
};

/** A whole plan: `least` with what is given, read. */
export function plan(change: Partial<PlanInput> = {}): Plan {
  const reading = readPlan({ ...least, ...change }, 'small.plan.json');
  if (!reading.value)
    throw new Error(reading.issues.map(({ where, found }) => `${where}: ${found}`).join('; '));
  return reading.value;
}
