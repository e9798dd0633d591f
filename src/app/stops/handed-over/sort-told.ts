import type { Issue } from '../../../engine/issue.ts';
import type { DraftAnswer } from '../../../jobs/calls.ts';
import type { SortedFile } from '../../../jobs/sort-files.ts';

/** What became of files handed over: each is used, or read and not used, or explained by an issue; notes are about files that were read. */
export interface ToldFiles {
  readonly used: readonly SortedFile[];
  readonly notUsed: readonly SortedFile[];
  readonly notRead: readonly Issue[];
  readonly notes: readonly Issue[];
  /** What keeps a plan from being made, of no single file. */
  readonly ofAll: readonly Issue[];
}

export function sortTold({ files, issues, plan }: Pick<DraftAnswer, 'files' | 'issues' | 'plan'>): ToldFiles {
  const isRead = (where: string) =>
    files.some(
      ({ file }) => where === file || where.startsWith(`${file} › `) || where.startsWith(`${file},`),
    );
  const isStopper = ({ severity, code }: Issue) =>
    severity === 'error' && (plan === null || code === 'boundary-not-found');
  const ofAll = issues.filter(isStopper);
  const rest = issues.filter((issue) => !ofAll.includes(issue));
  return {
    used: files.filter(({ role }) => role !== 'not used'),
    notUsed: files.filter(({ role }) => role === 'not used'),
    notRead: rest.filter(({ where }) => !isRead(where)),
    notes: rest.filter(({ where }) => isRead(where)),
    ofAll,
  };
}
