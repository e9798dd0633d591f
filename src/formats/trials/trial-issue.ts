import type { Issue, Severity } from '../../engine/issue.ts';

export function trialIssue(
  severity: Severity,
  code: string,
  where: string,
  found: string,
  expected: string,
  effect: string,
  remedy: string,
): Issue {
  return { code, severity, where, found, expected, effect, remedy };
}
