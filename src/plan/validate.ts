import type { z } from 'zod';
import type { Issue } from '../engine/issue.ts';
import { crossChecks } from './cross-checks.ts';
import { lineupChecks } from './lineup-checks.ts';
import { type Lineup, lineupSchema } from './lineup-schema.ts';
import { migrate } from './migrate.ts';
import { planIssue } from './plan-issue.ts';
import { type Plan, planSchema } from './schema.ts';

/** A document read, or the issues that keep it from being one. */
export type Reading<T> =
  | { readonly value: T; readonly issues: readonly Issue[] }
  | { readonly value: null; readonly issues: readonly Issue[] };

/** Read a plan from parsed JSON. `where` names the file in issues. */
export function readPlan(json: unknown, where: string): Reading<Plan> {
  const migrated = migrate(json, 'eachacre-plan', 1, where);
  if (migrated.issue) return { value: null, issues: [migrated.issue] };
  const parsed = planSchema.safeParse(migrated.json);
  if (!parsed.success)
    return { value: null, issues: schemaIssues(parsed.error, migrated.json, where, 'The plan is not used') };
  const issues = crossChecks(parsed.data, where);
  return issues.some((issue) => issue.severity === 'error')
    ? { value: null, issues }
    : { value: parsed.data, issues };
}

/** Read a lineup from parsed JSON. */
export function readLineup(json: unknown, where: string): Reading<Lineup> {
  const migrated = migrate(json, 'eachacre-lineup', 1, where);
  if (migrated.issue) return { value: null, issues: [migrated.issue] };
  const parsed = lineupSchema.safeParse(migrated.json);
  if (!parsed.success)
    return {
      value: null,
      issues: schemaIssues(parsed.error, migrated.json, where, 'The lineup is not used'),
    };
  const issues = lineupChecks(parsed.data, where);
  return issues.length ? { value: null, issues } : { value: parsed.data, issues };
}

function schemaIssues(failure: z.ZodError, json: unknown, where: string, effect: string): Issue[] {
  return failure.issues.map((problem) =>
    planIssue(
      'error',
      'document-not-valid',
      `${where} › ${pathText(problem.path)}`,
      `${valueText(json, problem.path)}${problem.message}`,
      'a value the document allows',
      effect,
      'Mend it there; the reference in docs lists every key',
    ),
  );
}

const LONGEST = 40;

/** The value at a path with a colon after it, where it is one that a line can show; '' for objects and lists. */
function valueText(json: unknown, path: readonly PropertyKey[]): string {
  let value = json;
  for (const key of path) {
    if (typeof value !== 'object' || value === null) return '';
    value = (value as Record<PropertyKey, unknown>)[key];
  }
  if (value === undefined) return 'nothing there: ';
  if (typeof value === 'object' && value !== null) return '';
  // JSON has no word for figures that are none.
  const text = typeof value === 'number' ? String(value) : JSON.stringify(value);
  return `${text.length > LONGEST ? `${text.slice(0, LONGEST)}…` : text}: `;
}

function pathText(path: readonly PropertyKey[]): string {
  return (
    path.reduce<string>(
      (text, key) =>
        typeof key === 'number' ? `${text}[${key}]` : text ? `${text}.${String(key)}` : String(key),
      '',
    ) || 'document'
  );
}
