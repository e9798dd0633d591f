import type { Issue } from '../engine/issue.ts';
import type { ReadTogether } from '../formats/registry.ts';
import { readPlan } from '../plan/validate.ts';
import type { RunControl } from '../run/walk.ts';
import type { DraftAnswer, DraftRequest } from './calls.ts';
import { draftFromFiles } from './draft-from-files.ts';
import { sortFiles } from './sort-files.ts';

/** A plan from files as they came, with nothing said of them but the crop and the season. */
export async function draftFromLoose(
  { files, name, season, crop }: DraftRequest,
  read: ReadTogether | undefined,
  control: RunControl,
): Promise<DraftAnswer> {
  const sorted = await sortFiles(files, crop, read, control);
  const issues = sorted.issues.map(leftOut);
  const { boundary } = sorted.roles;
  if (boundary === null) return { plan: null, files: sorted.files, issues: [...issues, noBoundary()] };
  control.onProgress?.({ step: 'Drafting the plan', share: 0.8 });
  const none = {
    soilValue: null,
    yieldColumn: {},
    yieldUnit: {},
    yieldCrop: {},
    readAs: {},
  };
  const draft = await draftFromFiles(
    files,
    { ...sorted.roles, boundary },
    { ...none, name, season, crop },
    read,
    control,
  );
  issues.push(...draft.issues.filter((issue) => !told(issue, issues)).map(withoutMap));
  const reading = readPlan(draft.plan, 'the files chosen');
  return { plan: reading.value, files: sorted.files, issues: [...issues, ...reading.issues] };
}

/** Letters, pictures and printed reports lie about in every folder. */
const DOCUMENT = /\.(md|txt|rtf|docx?|odt|pdf|jpe?g|png|gif|heic|html?)$/i;
const NO_DATA = ['file-foreign', 'csv-no-table'];

/** Of files handed over together one that cannot be read is left out, and told; the others still make a plan. */
export function leftOut(issue: Issue): Issue {
  if (issue.severity !== 'error') return issue;
  if (NO_DATA.includes(issue.code) && DOCUMENT.test(issue.where))
    return { ...issue, severity: 'note', effect: 'It is passed over' };
  return { ...issue, severity: 'warning', effect: `${issue.effect}; the plan goes without it` };
}

/** Of files handed over together a map whose yield nothing tells is left out, and told; the others still make a plan. */
export function withoutMap(issue: Issue): Issue {
  if (issue.code !== 'yield-column-not-found') return issue;
  return {
    ...issue,
    severity: 'warning',
    effect: 'The map is left out of the plan',
    remedy:
      'If it is of this field, name its column of yield (command line: --yield FILE --yield-column FILE=COLUMN)',
  };
}

/** A file is read twice, sorted and drafted; what is said of it is said once. */
export function told({ code, where, found }: Issue, issues: readonly Issue[]): boolean {
  return issues.some((own) => own.code === code && own.where === where && own.found === found);
}

export function noBoundary(): Issue {
  return {
    code: 'boundary-not-found',
    severity: 'error',
    where: 'the files given',
    found: 'no polygons that look like a field boundary',
    expected: 'the outline of the field',
    effect: 'There is no field to plan for',
    remedy: 'Give the file that holds it (command line: --boundary)',
  };
}
