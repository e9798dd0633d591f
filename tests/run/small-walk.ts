import type { PlanInput } from '../../src/plan/schema.ts';
import type { Results } from '../../src/run/results.ts';
import { type Inputs, run } from '../../src/run/run.ts';
import { plan } from '../plan/small-plan.ts';
import { answers, inputs, lineup, sources } from './small-field.ts';

/** The small field, walked by its plan with a change. */
export const walk = (change: Partial<PlanInput> = {}, own: Inputs = inputs): Promise<Results> =>
  run(plan({ ...answers, ...change }), own);

/** What the small field rests on, with one source more or another. */
export const withSource = (
  id: string,
  source: Inputs['sources'] extends ReadonlyMap<string, infer S> ? S : never,
): Inputs => ({
  lineup,
  sources: new Map([...sources, [id, source]]),
});

export const errors = ({ issues }: Results): string[] =>
  issues.filter(({ severity }) => severity === 'error').map(({ code }) => code);
