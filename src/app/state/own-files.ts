import { type Issue, Refusal } from '../../engine/issue.ts';
import type { FileBytes } from '../../formats/file-bytes.ts';
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
  const wanted = new Map(plan.sources.map((source) => [baseName(source.file), source.file]));
  const data = chosen.filter((own) => own !== planFile);
  const files: FileBytes[] = await Promise.all(
    data.map((own) => bytesOf(own, wanted.get(baseName(own.path)) ?? own.path)),
  );
  const here = new Set(data.map(({ path }) => baseName(path)));
  const missing: Issue[] = [...wanted.keys()]
    .filter((name) => !here.has(name))
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

function baseName(path: string): string {
  return (path.split(/[\\/]/).pop() ?? path).toLowerCase();
}
