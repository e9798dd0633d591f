import type { Issue, Severity } from '../engine/issue.ts';

/** An issue about a document; `where` is the file and the path in it. */
export function planIssue(
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
