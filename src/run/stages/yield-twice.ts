import type { Issue } from '../../engine/issue.ts';
import type { Plan } from '../../plan/schema.ts';

/** Two yield maps in use that are one column of the same bytes: one harvest would count as two years. */
export function yieldTwice({ sources, evidence }: Pick<Plan, 'sources' | 'evidence'>): Issue[] {
  const entries = new Map(sources.map((source) => [source.id, source]));
  const seen = new Map<string, string>();
  return evidence.yields.flatMap((map, k): Issue[] => {
    const entry = entries.get(map.source);
    if (!map.use || !entry) return [];
    const key = JSON.stringify([entry.sha256, map.column, map.where]);
    const before = seen.get(key);
    if (before === undefined) {
      seen.set(key, entry.file);
      return [];
    }
    return [
      {
        code: 'yield-file-twice',
        severity: 'error',
        where: `evidence.yields[${k}].source`,
        found: `${entry.file}, the same bytes as ${before}`,
        expected: 'each harvest once',
        effect: 'One harvest would count as two years, so no zones are drawn',
        remedy: 'Take one of them out, or name the file that was meant',
      },
    ];
  });
}
