import type { Issue } from '../engine/issue.ts';

/** Steps from version n to n + 1, by document. Version 1 is the first, so there are none yet. */
const steps: Readonly<
  Record<string, readonly ((json: Record<string, unknown>) => Record<string, unknown>)[]>
> = {};

/** Bring a document up to `version`. A document of another kind or a newer version is refused, never half read. */
export function migrate(
  json: unknown,
  document: string,
  version: number,
  where: string,
): { json: unknown; issue: null } | { json: null; issue: Issue } {
  const refuse = (code: string, found: string, expected: string, remedy: string) => ({
    json: null,
    issue: {
      code,
      severity: 'error' as const,
      where,
      found,
      expected,
      effect: 'The document is not read',
      remedy,
    },
  });
  if (typeof json !== 'object' || json === null || Array.isArray(json)) {
    return refuse(
      'document-foreign',
      'not a JSON object',
      `a document of kind ${document}`,
      'Choose another file',
    );
  }
  const head = json as Record<string, unknown>;
  if (head['document'] !== document) {
    return refuse(
      'document-foreign',
      `document ${JSON.stringify(head['document']) ?? 'not said'}`,
      document,
      'Choose another file',
    );
  }
  const from = head['version'];
  if (typeof from !== 'number' || !Number.isInteger(from) || from < 1) {
    return refuse(
      'document-version',
      `version ${JSON.stringify(from) ?? 'not said'}`,
      `a whole number from 1 to ${version}`,
      'Mend the version',
    );
  }
  if (from > version) {
    return refuse(
      'document-newer',
      `version ${from}`,
      `version ${version} or older`,
      'Open it with a newer Eachacre',
    );
  }
  const migrated = (steps[document] ?? [])
    .slice(from - 1, version - 1)
    .reduce((older, step) => step(older), head);
  return { json: migrated, issue: null };
}
