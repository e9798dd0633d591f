import { type Issue, Refusal } from '../../engine/issue.ts';
import type { FileBytes } from '../../formats/file-bytes.ts';
import { findFiles, parted } from '../../jobs/find-files.ts';
import { bytesOf, type ChosenFile } from './chosen-files.ts';
import { type Opened, planFrom } from './samples.ts';

export function isPlan({ path }: ChosenFile): boolean {
  return /\.plan\.json$/i.test(path);
}

/** A plan and its files as chosen by the user, matched by file name whatever folder they came from. */
export async function openOwnFiles(chosen: readonly ChosenFile[]): Promise<Opened> {
  const planFiles = chosen.filter(isPlan);
  if (planFiles.length !== 1) {
    throw new Refusal({
      code: 'plan-not-chosen',
      where: planFiles.map(({ path }) => path).join(', ') || 'the files chosen',
      found: `${planFiles.length} plans`,
      expected: 'one *.plan.json with the files it names',
      effect: 'Nothing is opened',
      remedy: 'Choose one plan and its files',
    });
  }
  const [planFile] = planFiles;
  const { plan, issues } = planFrom(await planFile.file.text(), planFile.path);
  const data = chosen.filter((own) => own !== planFile);
  // Under their own names, so that what lies beside a file stays beside it.
  const files: FileBytes[] = await Promise.all(data.map((own) => bytesOf(own)));
  const wanted = new Set(plan.sources.map((source) => parted(source.file).path));
  const missing: Issue[] = [...wanted]
    .filter((name) => findFiles(files, name).files.length === 0)
    .map((name) => ({
      code: 'file-not-chosen',
      severity: 'warning',
      where: planFile.path,
      found: `no ${name} among the files chosen`,
      expected: 'every file the plan names',
      effect: 'What rests on it cannot be worked out',
      remedy: 'Open the plan again and choose that file with it',
    }));
  return { plan, files, issues: [...issues, ...missing] };
}
