import { type Issue, Refusal } from '../../engine/issue.ts';

/** What is said of work that failed: the issue it was refused with, or that it failed. */
export function issueOf(error: unknown): Issue {
  if (error instanceof Refusal) return error.issue;
  return {
    code: 'work-failed',
    severity: 'error',
    where: 'this window',
    found: error instanceof Error ? error.message : 'an unknown failure',
    expected: 'the work to be done',
    effect: 'The figures shown are those of the last run',
    remedy: 'Undo the last change, or open the plan again',
  };
}
