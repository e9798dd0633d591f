import type { Issue } from '../../engine/issue.ts';
import type { Plan } from '../../plan/schema.ts';

type YieldPlan = Plan['evidence']['yields'][number];

/** Two yield maps in use that are one column of the same bytes and share records: one harvest would count as two years. */
export function yieldTwice({ sources, evidence }: Pick<Plan, 'sources' | 'evidence'>): Issue[] {
  const entries = new Map(sources.map((source) => [source.id, source]));
  const seen: { readonly map: YieldPlan; readonly sha256: string; readonly file: string }[] = [];
  return evidence.yields.flatMap((map, k): Issue[] => {
    const entry = entries.get(map.source);
    if (!map.use || !entry) return [];
    const before = seen.find(
      (own) =>
        own.sha256 === entry.sha256 && own.map.column === map.column && overlap(own.map.where, map.where),
    );
    seen.push({ map, ...entry });
    if (!before) return [];
    return [
      {
        code: 'yield-file-twice',
        severity: 'error',
        where: `evidence.yields[${k}].source`,
        found: `${entry.file}, ${
          before.map.source === map.source
            ? 'with records of another map of it'
            : `the same bytes as ${before.file}`
        }`,
        expected: 'each harvest once',
        effect: 'One harvest would count as two years, so no zones are drawn',
        remedy: 'Take one of them out, or name the file that was meant',
      },
    ];
  });
}

/** Whether two choices of records may share some: all records hold those of every choice; words are compared as records are picked by them. */
function overlap(a: YieldPlan['where'], b: YieldPlan['where']): boolean {
  if (!a || !b) return true;
  const plain = (text: string) => text.trim().toLowerCase();
  return a.column === b.column && plain(a.equals) === plain(b.equals);
}
