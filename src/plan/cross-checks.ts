import type { Issue } from '../engine/issue.ts';
import { planIssue } from './plan-issue.ts';
import type { Plan } from './schema.ts';
import { yieldId } from './yield-id.ts';

/** What the schema cannot say: every source named is listed once, prices leave something, limits and hand choices do not contradict. */
export function crossChecks(plan: Plan, where: string): Issue[] {
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
    ...(plan.evidence.soils?.join ?? []).map(({ source }, k): [string, string] => [
      `evidence.soils.join[${k}].source`,
      source,
    ]),
    ['lineup.source', plan.lineup?.source],
    ...plan.evidence.yields.map((map, k): [string, string] => [`evidence.yields[${k}].source`, map.source]),
    ...plan.evidence.layers.map((layer, k): [string, string] => [
      `evidence.layers[${k}].source`,
      layer.source,
    ]),
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
  // Records of a harvest are picked whatever the case of its word and the blanks about it.
  const twice = firstTwice(plan.evidence.yields.map((map) => yieldId(map).trim().toLowerCase()));
  if (twice !== null) {
    issues.push(
      planIssue(
        'error',
        'plan-yield-twice',
        `${where} › evidence.yields`,
        `${twice} a second time`,
        'each yield map once',
        effect,
        'Take one of them out',
      ),
    );
  }
  const recordTwice = firstTwice(plan.field.records ?? []);
  if (recordTwice !== null) {
    issues.push(
      planIssue(
        'error',
        'plan-record-twice',
        `${where} › field.records`,
        `record ${recordTwice} a second time`,
        'each record once',
        effect,
        'Take one of them out',
      ),
    );
  }
  if (plan.zones.names !== null && plan.zones.names.length !== plan.zones.count) {
    issues.push(
      planIssue(
        'error',
        'plan-zone-names',
        `${where} › zones.names`,
        `${plan.zones.names.length} names for ${plan.zones.count} zones`,
        'a name for each zone',
        effect,
        'Name every zone, or none (null)',
      ),
    );
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

function firstTwice<T>(values: readonly T[]): T | null {
  return values.find((value, k) => values.indexOf(value) < k) ?? null;
}
