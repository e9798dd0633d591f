import { type Issue, Refusal } from '../../engine/issue.ts';
import type { FileBytes } from '../../formats/file-bytes.ts';
import { type Opened, planFrom } from './samples.ts';

/** A plan and its files as chosen by the user, matched by file name whatever folder they came from. */
export async function openOwnFiles(chosen: readonly File[]): Promise<Opened> {
  const planFiles = chosen.filter((file) => /\.plan\.json$/i.test(file.name));
  if (planFiles.length !== 1) {
    throw new Refusal({
      code: 'plan-not-chosen',
      where: chosen.map((file) => file.name).join(', ') || 'the files chosen',
      found: planFiles.length === 0 ? 'no plan among them' : `${planFiles.length} plans`,
      expected: 'one *.plan.json with the files it names',
      effect: 'Nothing is opened',
      remedy:
        'Choose the plan and its files together; `eachacre plan` makes a plan from a boundary and a lineup',
    });
  }
  const [planFile] = planFiles;
  const { plan, issues } = planFrom(await planFile.text(), planFile.name);
  const wanted = new Map(plan.sources.map((source) => [baseName(source.file), source.file]));
  const data = chosen.filter((file) => file !== planFile);
  const files: FileBytes[] = await Promise.all(
    data.map(async (file) => ({
      name: wanted.get(baseName(file.name)) ?? file.name,
      bytes: new Uint8Array(await file.arrayBuffer()),
    })),
  );
  const here = new Set(data.map((file) => baseName(file.name)));
  const missing: Issue[] = [...wanted.keys()]
    .filter((name) => !here.has(name))
    .map((name) => ({
      code: 'file-not-chosen',
      severity: 'warning',
      where: planFile.name,
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
