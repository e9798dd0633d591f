import type { Plan } from '../schema.ts';
import { NOTHING_SAID } from '../source-said.ts';

type Named = Pick<Plan['sources'][number], 'file' | 'sha256'>;

/** The file of the plan's lineup as the plan names it; null without one. */
export function lineupFile(plan: Plan): Named | null {
  return plan.sources.find(({ id }) => id === plan.lineup?.source) ?? null;
}

/** The plan resting on this file of products instead of the one it had, or had not. */
export function withLineup(plan: Plan, { file, sha256 }: Named): Plan {
  const id = plan.lineup?.source ?? freeId(plan);
  const before = plan.sources.find((source) => source.id === id);
  const source = { ...(before ?? NOTHING_SAID), id, file, sha256 };
  return {
    ...plan,
    sources: before ? plan.sources.map((own) => (own.id === id ? source : own)) : [...plan.sources, source],
    lineup: plan.lineup ?? { source: id, leaveOut: [] },
  };
}

function freeId(plan: Plan): string {
  const taken = new Set(plan.sources.map(({ id }) => id));
  for (let n = 1; ; n++) {
    const id = n === 1 ? 'lineup' : `lineup-${n}`;
    if (!taken.has(id)) return id;
  }
}
