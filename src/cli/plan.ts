import { basename, dirname, relative, resolve, sep } from 'node:path';
import { crsFromEpsg } from '../engine/geodesy/crs.ts';
import { type Issue, Refusal } from '../engine/issue.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import { readFiles } from '../formats/registry.ts';
import { sha256Hex } from '../formats/sha256.ts';
import { type DraftFile, draftPlan } from '../plan/draft.ts';
import type { PlanInput } from '../plan/schema.ts';
import { readLineup, readPlan } from '../plan/validate.ts';
import { loadFile, saveFile } from './disk.ts';
import { DONE, hasError, tell, tellIssues, tellJson, WRONG_INPUT } from './tell.ts';

export interface PlanOptions {
  readonly boundary: string;
  readonly record?: readonly number[];
  readonly soils?: string;
  readonly soilTable?: readonly string[];
  readonly soilValue?: string;
  readonly yield?: readonly string[];
  readonly yieldColumn?: string;
  readonly lineup?: string;
  readonly crop: string;
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
  const home = dirname(resolve(options.out));
  const used = new Set<string>();
  const take = async (path: string, role: string): Promise<DraftFile> => {
    const files = loadFile(path);
    const crs = options.crs?.[path] ?? options.crs?.[basename(path)] ?? null;
    const entry = {
      id: uniqueId(role, used),
      file: relative(home, resolve(path)).split(sep).join('/'),
      sha256: await sha256Hex(files[0].bytes),
      crs,
    };
    return role === 'lineup' ? { entry, source: null } : readLayer(files, entry, issues);
  };
  const boundary = await take(options.boundary, 'boundary');
  const soils = options.soils ? await take(options.soils, 'soils') : null;
  const soilTables: DraftFile[] = [];
  for (const path of options.soilTable ?? []) soilTables.push(await take(path, 'soil-table'));
  const yields: DraftFile[] = [];
  for (const path of options.yield ?? []) yields.push(await take(path, 'yield'));
  const lineup = options.lineup ? await take(options.lineup, 'lineup') : null;
  if (options.lineup) checkLineup(options.lineup, issues);

  const words = {
    name: options.name ?? basename(options.out).replace(/(\.plan)?\.json$/, ''),
    season: options.season,
    crop: options.crop,
    soilValue: options.soilValue ?? null,
    yieldColumn: options.yieldColumn ?? null,
  };
  const draft = draftPlan({ boundary, soils, soilTables, yields, lineup }, words);
  issues.push(...draft.issues);
  const read = readPlan(withChoices(draft.plan, options), options.out);
  issues.push(...read.issues);
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

/** One layer of a file. Several polygons layers or none is told and stops the plan. */
function readLayer(
  files: readonly FileBytes[],
  entry: PlanInput['sources'][number],
  issues: Issue[],
): DraftFile {
  const crs = entry.crs ? crsFromEpsg(Number(entry.crs.replace(/^EPSG:/i, ''))) : null;
  if (entry.crs && !crs) {
    throw new Refusal({
      code: 'crs-not-supported',
      where: entry.file,
      found: entry.crs,
      expected: 'a coordinate system verified here',
      effect: 'The plan is not written',
      remedy: 'Convert the file to WGS 84 longitude and latitude',
    });
  }
  const read = readFiles(files, crs ? { crs } : {});
  issues.push(...read.issues);
  if (read.sources.length === 1) {
    issues.push(...read.sources[0].issues);
    return { entry, source: read.sources[0] };
  }
  if (read.sources.length > 1) {
    issues.push({
      code: 'layer-not-chosen',
      severity: 'error',
      where: entry.file,
      found: `${read.sources.length} layers: ${read.sources.map((source) => source.file).join(', ')}`,
      expected: 'one',
      effect: 'The plan is not written',
      remedy: 'Give a file with one layer',
    });
  } else if (!hasError(read.issues)) {
    issues.push({
      code: 'file-no-layer',
      severity: 'error',
      where: entry.file,
      found: 'no layer that can be read',
      expected: 'points, polygons or a table',
      effect: 'The plan is not written',
      remedy: 'Choose another file',
    });
  }
  return { entry, source: null };
}

function checkLineup(path: string, issues: Issue[]): void {
  let json: unknown;
  try {
    json = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(loadFile(path)[0].bytes));
  } catch {
    issues.push({
      code: 'lineup-unreadable',
      severity: 'error',
      where: path,
      found: 'no JSON',
      expected: 'a lineup document',
      effect: 'The plan is not written',
      remedy: 'Choose the lineup file',
    });
    return;
  }
  issues.push(...readLineup(json, path).issues);
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
    rates: given({ emergence: options.emergence, hoppers: options.hoppers }),
    handoff: given({ shape: options.shape }),
  };
}

function uniqueId(role: string, used: Set<string>): string {
  let id = role;
  for (let n = 2; used.has(id); n++) id = `${role}-${n}`;
  used.add(id);
  return id;
}
