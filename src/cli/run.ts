import { dirname, resolve } from 'node:path';
import { type Issue, Refusal } from '../engine/issue.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import { createDesk } from '../jobs/desk.ts';
import type { Plan } from '../plan/schema.ts';
import { readPlan } from '../plan/validate.ts';
import { portion } from '../run/walk.ts';
import { loadFile, refuseTaken } from './disk.ts';
import { staleFiles } from './hand-off-folder.ts';
import { readingInThread } from './reading-worker.ts';
import { refusedReport, reportOf } from './report.ts';
import { reportText } from './report-text.ts';
import { saveFolder } from './save-folder.ts';
import { DONE, hasError, progress, tell, tellIssues, tellJson, WRONG_INPUT } from './tell.ts';

export interface RunOptions {
  readonly out: string;
  readonly force?: boolean;
  readonly json?: boolean;
}

/** `eachacre run PLAN --out DIR`: the whole way, then the hand-off with its proof. Asked for JSON it answers with the same report when it is refused. */
export async function run(path: string, options: RunOptions): Promise<number> {
  try {
    return await runPlan(path, options);
  } catch (thrown) {
    if (!(thrown instanceof Refusal && options.json)) throw thrown;
    tellJson(refusedReport(thrown.issue));
    return WRONG_INPUT;
  }
}

async function runPlan(path: string, options: RunOptions): Promise<number> {
  refuseTaken(options.out, options.force ?? false);
  const stale = options.force ? staleFiles(options.out) : [];
  const plan = loadPlan(path);
  const control = progress();
  const desk = createDesk(readingInThread());
  try {
    await desk.call('open', { files: planFiles(path, plan) }, control);
    const results = await desk.call('run', { plan }, portion(control, 0, 0.6));
    const issues: Issue[] = [...results.issues];
    const handOff =
      results.ledger && !hasError(issues)
        ? await desk.call('handOff', { plan }, portion(control, 0.6, 1))
        : null;
    const prices = results.worth ? await desk.call('prices', { plan }) : null;
    issues.push(...(handOff?.issues ?? []));
    control.onProgress?.({ step: 'Done', share: 1 });
    control.end();
    const ok = !hasError(issues);
    if (ok && handOff && handOff.files.length > 0) saveFolder(options.out, handOff.files, stale);
    const report = reportOf(
      plan,
      results,
      handOff?.proof ?? null,
      prices,
      issues,
      ok && handOff ? options.out : null,
    );
    if (options.json) tellJson(report);
    else {
      tellIssues(issues);
      tell(reportText(report, plan, results));
    }
    return ok ? DONE : WRONG_INPUT;
  } finally {
    control.end();
  }
}

/** A plan from its file. Refuses on the first thing wrong with it, naming how many there are. */
function loadPlan(path: string): Plan {
  let json: unknown;
  try {
    json = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(loadFile(path)[0].bytes));
  } catch (thrown) {
    if (thrown instanceof Refusal) throw thrown;
    throw new Refusal({
      code: 'plan-unreadable',
      where: path,
      found: 'no JSON',
      expected: 'a plan document',
      effect: 'Nothing is run',
      remedy: 'Choose a plan file (eachacre plan makes one)',
    });
  }
  const read = readPlan(json, path);
  if (read.value) return read.value;
  const first = read.issues[0];
  const more = read.issues.length - 1;
  throw new Refusal({ ...first, found: more > 0 ? `${first.found} (and ${more} more)` : first.found });
}

/** The files the plan names that are there; the run tells of the others. */
function planFiles(path: string, plan: Plan): FileBytes[] {
  // Two sources may rest on one file; it is put on the desk once.
  const files = new Map<string, FileBytes>();
  for (const { file } of plan.sources) {
    const onDisk = file.split(' › ')[0];
    try {
      for (const own of loadFile(resolve(dirname(path), onDisk), onDisk)) files.set(own.name, own);
    } catch (thrown) {
      if (!(thrown instanceof Refusal)) throw thrown;
    }
  }
  return [...files.values()];
}
