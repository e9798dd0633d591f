import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Report } from '../../../src/cli/report.ts';
import type { Issue } from '../../../src/engine/issue.ts';
import type { SortedFile } from '../../../src/jobs/sort-files.ts';
import type { Plan } from '../../../src/plan/schema.ts';
import { type Answer, eachacre } from '../built.ts';
import type { HandedOver } from './handed-over.ts';
import { acresOf } from './invented-field.ts';

interface PlanAnswer {
  readonly written: string | null;
  readonly plan: Plan | null;
  readonly files: readonly SortedFile[] | null;
  readonly issues: readonly Issue[];
}

export interface Judged {
  /** What is wrong; empty where all of it is right. */
  readonly wrong: readonly string[];
  readonly plan: PlanAnswer | null;
  readonly report: Report | null;
  readonly delay: {
    readonly found: number;
    readonly truth: number;
    readonly confident: boolean | null;
  } | null;
}

export function layFolder(folder: string, { files }: HandedOver): void {
  rmSync(folder, { recursive: true, force: true });
  for (const { name, bytes } of files) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), bytes);
  }
}

/** Hand the folder over, as it is and then with what has to be said, run the plan if wanted, and hold every answer against the truth. */
export function judge(folder: string, given: HandedOver, runIt = true): Judged {
  const wrong: string[] = [];
  const inside = join(folder, 'in');
  layFolder(inside, given);
  const ask = (...more: string[]): PlanAnswer | null => {
    const answer = eachacre(
      ['plan', 'in', ...given.args, ...more, '--out', 'a.plan.json', '--force', '--json'],
      { cwd: folder },
    );
    wrong.push(...illMannered('plan', answer));
    return parsed(answer);
  };
  let plan = ask();
  if (plan && given.say.length > 0) {
    wrong.push(...accounted(given, plan));
    const option = given.say[0];
    if (
      !plan.issues.some(
        ({ remedy, where }) =>
          remedy.includes(option) && where.includes(given.say[1].replace(/\.[a-z]+(=.*)?$/, '')),
      )
    )
      wrong.push(`${option} is not asked for`);
    plan = ask(option, ...given.say.slice(1).map((name) => `in/${name}`));
  }
  if (!plan) return { wrong, plan, report: null, delay: null };
  wrong.push(...accounted(given, plan), ...sorted(given, plan));
  if (plan.written === null) {
    const [first] = plan.issues.filter(({ severity }) => severity === 'error');
    wrong.push(`no plan: ${first?.code} ${first?.where}: ${first?.found}`);
    return { wrong, plan, report: null, delay: null };
  }
  if (!runIt) return { wrong, plan, report: null, delay: null };
  const answer = eachacre(['run', 'a.plan.json', '--out', 'out', '--force', '--json'], { cwd: folder });
  wrong.push(...illMannered('run', answer));
  const report = parsed<Report>(answer);
  if (!report) return { wrong, plan, report, delay: null };
  if (answer.code !== 0) {
    const [first] = report.issues.filter(({ severity }) => severity === 'error');
    wrong.push(`no run: ${first?.code} ${first?.where}: ${first?.found}`);
    return { wrong, plan, report, delay: null };
  }
  wrong.push(...truthOf(given, plan, report));
  return { wrong, plan, report, delay: delayOf(given, report) };
}

/** Never a stack trace, a hang, words on stdout that are no answer, or an exit code of its own. */
function illMannered(what: string, { code, err, out }: Answer): string[] {
  const ill: string[] = [];
  if (code === null) ill.push(`${what} had to be killed`);
  else if (code !== 0 && code !== 1) ill.push(`${what} ended with ${code}`);
  if (/\n\s+at .+:\d+:\d+/.test(err)) ill.push(`${what} left a stack trace: ${err.slice(0, 300)}`);
  if (parsed({ code, err, out }) === null) ill.push(`${what} gave no JSON`);
  return ill;
}

function parsed<T = PlanAnswer>({ out }: Answer): T | null {
  try {
    return JSON.parse(out) as T;
  } catch {
    return null;
  }
}

const LITTER_OF_SYSTEMS = /(^|\/)(\.|__MACOSX\/|Thumbs\.db$|desktop\.ini$)/i;

/** Every file is in the answer or in an issue; a shapefile's members go with their .shp. */
function accounted({ files }: HandedOver, { files: told, issues }: PlanAnswer): string[] {
  const all = [...(told ?? []).map(({ file }) => file), ...issues.map(({ where }) => where)];
  return files
    .map(({ name }) => name)
    .filter((name) => !LITTER_OF_SYSTEMS.test(name))
    .filter((name) => {
      const own = `in/${name.replace(/\.(shx|dbf|prj|cpg)$/, '.shp')}`;
      return !all.some((where) => where.startsWith(own) || where.startsWith(`in/${name}`));
    })
    .map((name) => `${name} is not accounted for`);
}

function sorted(given: HandedOver, { files, plan }: PlanAnswer): string[] {
  const wrong: string[] = [];
  const roleOf = (name: string) =>
    (files ?? []).filter(({ file }) => file.startsWith(`in/${name}`)).map(({ role }) => role);
  if (!roleOf(given.boundary).includes('boundary')) wrong.push(`the boundary is ${roleOf(given.boundary)}`);
  const records = plan?.field.records ?? null;
  if (given.record !== null && (records?.length !== 1 || records[0] !== given.record))
    wrong.push(`records ${records} for ${given.record}`);
  for (const { file } of given.logs)
    if (!roleOf(file).includes('yield')) wrong.push(`the log ${file} is ${roleOf(file)}`);
  for (const log of given.logs) {
    const map = plan?.evidence.yields.find(({ source }) =>
      plan.sources.some(({ id, file }) => id === source && file.startsWith(`in/${log.file}`)),
    );
    if (!map) wrong.push(`no yield of ${log.file} in the plan`);
    else if (log.from === 'flow' && map.take !== 'flow') wrong.push(`${map.column} taken for yield`);
    else if (log.from !== 'flow' && log.unitTold && map.unit !== log.unit)
      wrong.push(`unit ${map.unit} for ${log.unit}`);
  }
  if (given.soils && !roleOf(given.soils).includes('soils'))
    wrong.push(`the soils are ${roleOf(given.soils)}`);
  for (const name of given.elsewhere)
    if (roleOf(name).some((role) => role !== 'not used'))
      wrong.push(`${name} of another field is ${roleOf(name)}`);
  return wrong;
}

/** Acres to 0.1 %, mean yields to 3 %, unless a question is open about it. */
function truthOf(given: HandedOver, { plan }: PlanAnswer, report: Report): string[] {
  const wrong: string[] = [];
  const ratio = (report.field?.acres ?? NaN) / acresOf(given.field.design);
  if (!(Math.abs(ratio - 1) < 1e-3))
    wrong.push(`acres ${report.field?.acres} for ${acresOf(given.field.design)}`);
  for (const log of given.logs) {
    const source = report.sources.find(({ file }) => file.startsWith(`in/${log.file}`));
    const own = report.evidence.yields.find(({ id }) => id.split(' · ')[0] === source?.id);
    const surface = report.surfaces.find(
      ({ id, kind }) => kind === 'yield' && id.split(' · ')[0] === source?.id,
    );
    if (!own || !surface) {
      wrong.push(`no yield of ${log.file}`);
      continue;
    }
    const off = (surface.mean ?? NaN) / log.field.meanYield_buPerAc - 1;
    const open = own.questions.map(({ about }) => about);
    // What is open is told; a wrong figure is only silent where nothing is.
    if (open.includes('yield unit') && !log.unitTold) continue;
    if (own.unit !== 'bu/ac')
      wrong.push(`unit ${own.unit || 'unknown'} (open: ${open.join(', ') || 'nothing'})`);
    else if (!(Math.abs(off) < (open.includes('moisture basis') ? 0.06 : 0.03)))
      wrong.push(
        `mean ${surface.mean?.toFixed(1)} for ${log.field.meanYield_buPerAc.toFixed(1)}, ${(100 * off).toFixed(1)} % (open: ${open.join(', ') || 'nothing'}; ${own.readings.slice(0, 2).join('; ')})`,
      );
  }
  const { soils } = plan?.evidence ?? {};
  if (given.soils && !soils) wrong.push('soils without a value');
  if (
    given.soils &&
    report.soils &&
    Math.abs(report.soils.coveredAcres / (report.field?.acres ?? NaN) - 1) > 0.01
  )
    wrong.push(`soils cover ${report.soils.coveredAcres} ac`);
  const delay = delayOf(given, report);
  if (delay?.confident && given.logs[0].timed && Math.abs(delay.found - delay.truth) > 1)
    wrong.push(`delay ${delay.found} for ${delay.truth}`);
  return wrong;
}

function delayOf(given: HandedOver, report: Report): Judged['delay'] {
  const source = report.sources.find(({ file }) => file.startsWith(`in/${given.logs[0]?.file}`));
  const own = report.evidence.yields.find(({ id }) => id.split(' · ')[0] === source?.id);
  return own
    ? { found: own.delay.delay_s, truth: given.field.delay_s, confident: own.delay.confident }
    : null;
}
