import type { Issue } from '../../engine/issue.ts';
import { type Tally, tallyText } from '../tally.ts';

/** Rows of a text table that are kept and not used, by their lines. */
export function asideIssue(code: string, where: string, tally: Tally, expected: string): Issue {
  return {
    code,
    severity: 'warning',
    where,
    found: tallyText(tally, tally.count === 1 ? 'line' : 'lines'),
    expected,
    effect: `${tally.count} ${tally.count === 1 ? 'row is' : 'rows are'} set aside`,
    remedy: 'Correct these lines if they matter',
  };
}
