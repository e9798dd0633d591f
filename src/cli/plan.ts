import { basename, dirname, relative, resolve, sep } from 'node:path';
import { type Issue, Refusal } from '../engine/issue.ts';
import type { Source } from '../engine/layers/source.ts';
import { sameCrop } from '../engine/math/crop-name.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import type { ReadTogether } from '../formats/registry.ts';
import { readLayerFile, readLineupFile } from '../jobs/read-file.ts';
import { sourceSha256 } from '../jobs/source-sha256.ts';
import { type DraftFile, draftPlan } from '../plan/draft.ts';
import type { Plan, PlanInput } from '../plan/schema.ts';
import { readPlan } from '../plan/validate.ts';
import { layField } from '../run/stages/lay-field.ts';
import { sourceCrs } from '../run/stages/place-source.ts';
import { usableLineup } from '../run/stages/usable-lineup.ts';
import { loadFile, saveFile } from './disk.ts';
import { readingInThread } from './reading-worker.ts';
import { DONE, hasError, tell, tellIssues, tellJson, WRONG_INPUT } from './tell.ts';

export interface PlanOptions {
  readonly boundary: string;
  readonly record?: readonly number[];
  readonly soils?: string;
  readonly soilTable?: readonly string[];
  readonly soilValue?: string;
  readonly yield?: readonly string[];
  readonly yieldColumn?: readonly string[];
  readonly yieldCrop?: Readonly<Record<string, string>>;
  readonly lineup?: string;
  readonly crop?: string;
  readonly season: number;
  readonly name?: string;
  readonly grainPrice?: number;
  readonly drying?: number;
  readonly emergence?: number;
  readonly hoppers?: number;
  readonly expectedYield?: number;
  readonly zones?: number;
  readonly method?: 'natural-breaks' | 'fuzzy-c-means';
  readonly heading?: number;
  readonly cell?: number;
  readonly shape?: 'cells' | 'zones';
  readonly splitCrossing?: boolean;
  readonly crs?: Readonly<Record<string, string>>;
  readonly out: string;
  readonly force?: boolean;
  readonly json?: boolean;
}

/** `eachacre plan`: make a plan from files. Whatever is guessed is written in the plan and told. */
export async function plan(options: PlanOptions): Promise<number> {
  refuseOddFiles(options);
  const issues: Issue[] = [];
  const crop = options.crop ?? 'corn';
  const home = dirname(resolve(options.out));
  const used = new Set<string>();
  const readTogether = readingInThread();
  const take = async (path: string, role: string): Promise<DraftFile> => {
    const files = loadFile(path);
    const crs = options.crs?.[path] ?? options.crs?.[basename(path)] ?? null;
    const entry = {
      id: uniqueId(role, used),
      file: relative(home, resolve(path)).split(sep).join('/'),
      sha256: await sourceSha256(files),
      crs,
    };
    return role === 'lineup' ? { entry, source: null } : readLayer(files, entry, issues, readTogether);
  };
  const boundary = await take(options.boundary, 'boundary');
  const soils = options.soils ? await take(options.soils, 'soils') : null;
  const soilTables: DraftFile[] = [];
  for (const path of options.soilTable ?? []) soilTables.push(await take(path, 'soil-table'));
  const yields: DraftFile[] = [];
  for (const path of options.yield ?? []) yields.push(await take(path, 'yield'));
  const lineup = options.lineup ? await take(options.lineup, 'lineup') : null;
  if (options.lineup) checkLineup(options.lineup, crop, issues);

  const words = {
    name: options.name ?? basename(options.out).replace(/(\.plan)?\.json$/, ''),
    season: options.season,
    crop,
    soilValue: options.soilValue ?? null,
    yieldColumn: columnsByFile(options.yieldColumn ?? [], options.yield ?? [], yields),
    yieldCrop: byFile(options.yieldCrop ?? {}, options.yield ?? [], yields),
  };
  const draft = draftPlan({ boundary, soils, soilTables, yields, lineup }, words);
  issues.push(...draft.issues);
  const read = readPlan(withChoices(draft.plan, options), options.out);
  issues.push(...read.issues);
  if (read.value) tellAssumed(read.value, options, issues);
  if (read.value && boundary.source && !hasError(issues)) layOut(boundary.source, read.value, issues);
  const written = read.value !== null && !hasError(issues);
  if (written)
    saveFile(
      options.out,
      new TextEncoder().encode(`${JSON.stringify(read.value, null, 2)}\n`),
      options.force ?? false,
    );
  if (options.json) tellJson({ written: written ? options.out : null, plan: read.value, issues });
  else {
    tellIssues(issues);
    if (written)
      tell(
        `Plan written: ${options.out}\nRead it, change what you know better, then: eachacre run ${options.out} --out DIR`,
      );
  }
  return written ? DONE : WRONG_INPUT;
}

/** What no file can mend: a coordinate system for a file that is not among those given, and a plan written over what it rests on. */
function refuseOddFiles(options: PlanOptions): void {
  const { boundary, soils, soilTable, lineup, crs, out } = options;
  const given = [boundary, soils, ...(soilTable ?? []), ...(options.yield ?? []), lineup].flatMap(
    (path) => path ?? [],
  );
  const effect = 'The plan is not written';
  for (const file of Object.keys(crs ?? {})) {
    if (given.some((path) => path === file || basename(path) === file)) continue;
    throw new Refusal({
      code: 'crs-file-not-given',
      where: `--crs ${file}`,
      found: 'no such file among those given',
      expected: `one of ${given.map((path) => basename(path)).join(', ')}`,
      effect,
      remedy: 'Write the file as you gave it, or its name alone',
    });
  }
  if (given.some((path) => resolve(path) === resolve(out))) {
    throw new Refusal({
      code: 'plan-over-source',
      where: out,
      found: 'a file the plan rests on',
      expected: 'a name of its own',
      effect,
      remedy: 'Choose another name for the plan',
    });
  }
}

/** A layer of a file, and an error where it could never be placed: a plan that cannot run is not written. */
async function readLayer(
  files: readonly FileBytes[],
  entry: PlanInput['sources'][number],
  issues: Issue[],
  readTogether: ReadTogether,
): Promise<DraftFile> {
  const read = await readLayerFile(files, null, entry.crs ?? null, readTogether);
  issues.push(...read.issues);
  const { source } = read;
  if (source && source.shape !== 'table') tellRefusal(issues, () => sourceCrs(source, []));
  return { entry, source: read.source };
}

/** The draft with what was said outright put over what was guessed; what was not said keeps the schema's default. */
function withChoices(draft: PlanInput, options: PlanOptions): PlanInput {
  const given = <T extends object>(part: T): T =>
    Object.fromEntries(Object.entries(part).filter(([, value]) => value !== undefined)) as T;
  return {
    ...draft,
    field: {
      ...draft.field,
      ...given({
        records: options.record,
        crossing: options.splitCrossing ? 'split' : undefined,
        heading_deg: options.heading,
        cell_m: options.cell,
      }),
    } as PlanInput['field'],
    environment: given({ expected_buPerAc: options.expectedYield }),
    zones: given({ count: options.zones, method: options.method }),
    money: given({ grainPrice_perBu: options.grainPrice, dryingHauling_perBu: options.drying }),
    rates: given({ emergence: options.emergence ?? usualEmergence(draft.crop), hoppers: options.hoppers }),
    handoff: given({ shape: options.shape }),
  };
}

/** Soybeans come up less surely than corn: about .80 to .85 against .90 to .95 (extension figures; common practice). Undefined keeps the schema's. */
function usualEmergence(crop: string): number | undefined {
  return sameCrop(crop, 'soybean') ? 0.85 : undefined;
}

/** Figures that move every rate and were not said: one note names them with what was taken. */
function tellAssumed({ crop, rates, money }: Plan, options: PlanOptions, issues: Issue[]): void {
  const assumed = [
    options.crop === undefined ? `crop ${crop} (--crop)` : '',
    options.emergence === undefined ? `emergence ${rates.emergence} (--emergence)` : '',
    options.hoppers === undefined ? `${rates.hoppers} hoppers (--hoppers)` : '',
    options.drying === undefined ? `drying and hauling $${money.dryingHauling_perBu}/bu (--drying)` : '',
    `rates in steps of ${rates.step_seedsPerAc}`,
  ].filter(Boolean);
  issues.push({
    code: 'figures-assumed',
    severity: options.crop === undefined ? 'warning' : 'note',
    where: options.out,
    found: assumed.join(', '),
    expected: 'your own figures',
    effect: 'They are written in the plan, and every rate rests on them',
    remedy: 'Say them, or change them in the plan',
  });
}

/** A lineup that cannot be read, or has no product of the crop, is told now. */
function checkLineup(path: string, crop: string, issues: Issue[]): void {
  const read = readLineupFile(loadFile(path)[0]);
  issues.push(...read.issues);
  const { lineup } = read;
  if (lineup) tellRefusal(issues, () => usableLineup(lineup, path, crop, []));
}

/** Do a piece of the run ahead of it; what it refuses becomes an issue of the plan. */
function tellRefusal(issues: Issue[], work: () => unknown): void {
  try {
    work();
  } catch (thrown) {
    if (!(thrown instanceof Refusal)) throw thrown;
    issues.push(thrown.issue);
  }
}

/** Lay the field out once already: a boundary that cannot be used is told now, not when the plan is run. */
function layOut(boundary: Source, drafted: Plan, issues: Issue[]): void {
  tellRefusal(issues, () => issues.push(...layField(boundary, drafted.field).issues));
}

/** What is said of files by path or name, by the id of their entry in the plan. */
function byFile(
  said: Readonly<Record<string, string>>,
  paths: readonly string[],
  files: readonly DraftFile[],
): Record<string, string> {
  const found: Record<string, string> = {};
  for (const [k, path] of paths.entries()) {
    const value = said[path] ?? said[basename(path)];
    if (value !== undefined) found[files[k].entry.id] = value;
  }
  return found;
}

/** Yield columns: `FILE=COLUMN` for one file, a bare `COLUMN` for every other. */
function columnsByFile(
  said: readonly string[],
  paths: readonly string[],
  files: readonly DraftFile[],
): Record<string, string> {
  const forFile: Record<string, string> = {};
  let forAll: string | undefined;
  for (const text of said) {
    const cut = text.indexOf('=');
    const file = text.slice(0, cut);
    if (cut > 0 && paths.some((path) => path === file || basename(path) === file))
      forFile[file] = text.slice(cut + 1);
    else forAll = text;
  }
  const rest = forAll === undefined ? {} : Object.fromEntries(files.map((each) => [each.entry.id, forAll]));
  return { ...rest, ...byFile(forFile, paths, files) };
}

function uniqueId(role: string, used: Set<string>): string {
  let id = role;
  for (let n = 2; used.has(id); n++) id = `${role}-${n}`;
  used.add(id);
  return id;
}
