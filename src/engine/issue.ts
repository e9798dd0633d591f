/** How grave an issue is: an error stops the work it is about, a warning does not, a note only tells. */
export type Severity = 'error' | 'warning' | 'note';

/**
 * What is wrong, in words every door prints alike. Readers, plan validation and run stages return these;
 * nothing is thrown for bad input except by `refuse`, and the doors catch that.
 */
export interface Issue {
  /** Stable, kebab-case; what tests match. */
  readonly code: string;
  readonly severity: Severity;
  /** File › member › record, a plan path, or a stage. */
  readonly where: string;
  readonly found: string;
  readonly expected: string;
  /** What it does to the work. */
  readonly effect: string;
  /** What the user can do about it. */
  readonly remedy: string;
}

/** An issue thrown by a reader or a stage that cannot go on. `issue.severity` is always `error`. */
export class Refusal extends Error {
  readonly issue: Issue;
  constructor(issue: Omit<Issue, 'severity'>) {
    super(`${issue.where}: ${issue.found}`);
    this.name = 'Refusal';
    this.issue = { ...issue, severity: 'error' };
  }
}

/** One line of text for an issue: `where: found (expected …). Effect. Remedy.` */
export function issueText(issue: Issue): string {
  return `${issue.where}: ${issue.found} (expected ${issue.expected}). ${issue.effect}. ${issue.remedy}.`;
}
