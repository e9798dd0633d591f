import { type Issue, Refusal } from '../../engine/issue.ts';

const AGAIN = 'Write the task file again in the program it comes from';

/** Refuses one layer of a task file; the others are still read. */
export function refuseIso(code: string, where: string, found: string, expected: string): never {
  throw new Refusal({ code, where, found, expected, effect: 'This layer was not read', remedy: AGAIN });
}

export function isoIssue(
  code: string,
  severity: Issue['severity'],
  where: string,
  found: string,
  expected: string,
  effect: string,
  remedy = AGAIN,
): Issue {
  return { code, severity, where, found, expected, effect, remedy };
}
