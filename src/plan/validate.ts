import type { z } from 'zod';
import type { Issue } from '../engine/issue.ts';
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
    return { value: null, issues: schemaIssues(parsed.error, where, 'The plan is not used') };
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
    return { value: null, issues: schemaIssues(parsed.error, where, 'The lineup is not used') };
  const issues: Issue[] = [];
  const seen = new Set<string>();
  parsed.data.products.forEach((product, k) => {
    if (seen.has(product.id)) {
      issues.push(
        planIssue(
          'error',
          'lineup-duplicate-product',
          `${where} › products[${k}].id`,
          `${product.id} a second time`,
          'ids used once',
          'The lineup is not used',
          'Give the product an id of its own',
        ),
      );
    }
    seen.add(product.id);
    if (product.tested_plantsPerAc.min >= product.tested_plantsPerAc.max) {
      issues.push(
        planIssue(
          'error',
          'lineup-tested-range',
          `${where} › products[${k}].tested_plantsPerAc`,
          `${product.tested_plantsPerAc.min} to ${product.tested_plantsPerAc.max}`,
          'min under max',
          'The lineup is not used',
          'Give the lowest and highest stand the trials covered',
        ),
      );
    }
  });
  return issues.length ? { value: null, issues } : { value: parsed.data, issues };
}

function schemaIssues(failure: z.ZodError, where: string, effect: string): Issue[] {
  return failure.issues.map((problem) =>
    planIssue(
      'error',
      'document-not-valid',
      `${where} › ${pathText(problem.path)}`,
      problem.message,
      'a value the document allows',
      effect,
      'Mend it there; the reference in docs lists every key',
    ),
  );
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

/** What the schema cannot say: every source named is listed once, prices leave something, limits and hand choices do not contradict. */
function crossChecks(plan: Plan, where: string): Issue[] {
  const issues: Issue[] = [];
  const effect = 'The plan is not used';
  const ids = new Set<string>();
  plan.sources.forEach((source, k) => {
    if (ids.has(source.id)) {
      issues.push(
        planIssue(
          'error',
          'plan-duplicate-source',
          `${where} › sources[${k}].id`,
          `${source.id} a second time`,
          'ids used once',
          effect,
          'Give the source an id of its own',
        ),
      );
    }
    ids.add(source.id);
  });
  const named: [string, string | undefined][] = [
    ['field.boundary', plan.field.boundary],
    ['evidence.soils.source', plan.evidence.soils?.source],
    ['evidence.soils.join.source', plan.evidence.soils?.join?.source],
    ['lineup.source', plan.lineup?.source],
    ...plan.evidence.yields.map((map, k): [string, string] => [`evidence.yields[${k}].source`, map.source]),
  ];
  for (const [path, id] of named) {
    if (id !== undefined && !ids.has(id)) {
      issues.push(
        planIssue(
          'error',
          'plan-source-missing',
          `${where} › ${path}`,
          id,
          `one of ${[...ids].join(', ')}`,
          effect,
          'List the file under sources or name one that is listed',
        ),
      );
    }
  }
  const { grainPrice_perBu: price, dryingHauling_perBu: costs } = plan.money;
  if (price !== null && price <= costs) {
    issues.push(
      planIssue(
        'error',
        'price-not-positive',
        `${where} › money`,
        `${price} less ${costs} of drying and hauling a bushel`,
        'a net price over zero',
        effect,
        'Check both figures',
      ),
    );
  }
  if (
    plan.rates.highest_seedsPerAc !== null &&
    plan.rates.highest_seedsPerAc < plan.rates.lowest_seedsPerAc
  ) {
    issues.push(
      planIssue(
        'error',
        'rate-limits-contradict',
        `${where} › rates`,
        `lowest ${plan.rates.lowest_seedsPerAc} over highest ${plan.rates.highest_seedsPerAc}`,
        'lowest under highest',
        effect,
        'Change one of them',
      ),
    );
  }
  const byHand = new Set<number>();
  plan.rates.byHand.forEach(({ zone }, k) => {
    if (byHand.has(zone)) {
      issues.push(
        planIssue(
          'error',
          'by-hand-twice',
          `${where} › rates.byHand[${k}].zone`,
          `zone ${zone} a second time`,
          'one choice a zone',
          effect,
          'Keep one of them',
        ),
      );
    }
    byHand.add(zone);
  });
  return issues;
}
