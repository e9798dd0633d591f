import type { CleaningRule, Settings } from '../../../src/engine/harvest/cleaning-rule.ts';
import type { HarvestLog } from '../../../src/engine/harvest/harvest-log.ts';
import { findPasses } from '../../../src/engine/harvest/passes.ts';

/** Records of the log a rule sets aside by its usual figures or those given, all kept so far unless told; null when it was not tried. */
export function judged(
  rule: CleaningRule,
  log: HarvestLog,
  settings: Settings = {},
  kept: readonly number[] = Array.from({ length: log.records }, () => 1),
): number[] | null {
  const usual = Object.fromEntries(Object.entries(rule.thresholds).map(([name, own]) => [name, own.usual]));
  const marks = rule.judge(log, findPasses(log), Uint8Array.from(kept), { ...usual, ...settings });
  return marks && [...marks].flatMap((mark, i) => (mark && kept[i] ? [i] : []));
}
