import { basename, dirname, resolve } from 'node:path';
import { type Issue, Refusal } from '../engine/issue.ts';
import type { Source } from '../engine/layers/source.ts';
import { sameCrop } from '../engine/math/crop-name.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import { draftFromFiles, type Said } from '../jobs/draft-from-files.ts';
import { leftOut, noBoundary, told, withoutMap } from '../jobs/draft-plan.ts';
import { readLineupFile, readOptions } from '../jobs/read-file.ts';
import { remembering } from '../jobs/remembering.ts';
import { type Sorted, sortFiles } from '../jobs/sort-files.ts';
import type { Plan, PlanInput } from '../plan/schema.ts';
import { readPlan } from '../plan/validate.ts';
import { layField } from '../run/stages/lay-field.ts';
import { usableLineup } from '../run/stages/usable-lineup.ts';
import { saveFile } from './disk.ts';
import { bushelWeight_lb } from './option-values.ts';
import { byFile, filesText, givenFiles, NO_ROLES, rolesOf } from './plan-files.ts';
import { type ReadingWords, readingSaid } from './reading-said.ts';
import { readingInThread } from './reading-worker.ts';
import { idleYieldWords, refuseOddWords } from './refuse-odd-words.ts';
import { saidSources } from './said-sources.ts';
import { DONE, hasError, tell, tellIssues, tellJson, WRONG_INPUT } from './tell.ts';

export interface PlanOptions extends ReadingWords {
  readonly boundary?: string;
  readonly record?: readonly number[];
  readonly soils?: string;
  readonly soilTable?: readonly string[];
  readonly soilValue?: string;
  readonly yield?: readonly string[];
  readonly yieldColumn?: readonly string[];
  readonly yieldUnit?: readonly string[];
  readonly yieldCrop?: readonly string[];
  readonly swathUnit?: readonly string[];
  readonly bushelWeight?: readonly string[];
  readonly layer?: readonly string[];
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
  readonly out: string;
  readonly force?: boolean;
  readonly json?: boolean;
}

/** `eachacre plan`: make a plan from files. Whatever is guessed is written in the plan and told. */
export async function plan(paths: readonly string[], options: PlanOptions): Promise<number> {
  const home = dirname(resolve(options.out));
  const given = givenFiles(paths, options, home);
  const names = given.files.map(({ name }) => name);
  refuseOddWords(names, options);
  const issues: Issue[] = [];
  const crop = options.crop ?? 'corn';
  const read = remembering(readingInThread());
  const readAs = readingSaid(options, names);
  const sorted =
    paths.length > 0
      ? await sortFiles(
          given.loose,
          crop,
          read,
          {},
          (file) => readOptions(readAs[file] ?? {}, file).options ?? {},
          await saidSources(given, options.record, readAs, read),
        )
      : null;
  const fieldSaid = options.record !== undefined || options.boundary !== undefined;
  const sortedIssues = (sorted?.issues ?? []).filter(
    ({ code }) => !(fieldSaid && (code === 'boundary-farm' || code === 'boundary-parts')),
  );
  issues.push(...sortedIssues.map(leftOut).map(mustBeSaid));
  const roles = rolesOf(sorted?.roles ?? NO_ROLES, given);
  if (roles.boundary === null) return refuseWithoutBoundary(sorted, issues, options);
  issues.push(...idleYieldWords(names, roles.yields, options));
  if (roles.lineup !== null) checkLineup(given.files, roles.lineup, crop, issues);

  const said: Said = {
    name: options.name ?? basename(options.out).replace(/(\.plan)?\.json$/, ''),
    season: options.season,
    crop,
    soilValue: options.soilValue ?? null,
    yieldColumn: byFile(options.yieldColumn ?? [], roles.yields, names),
    yieldUnit: byFile(options.yieldUnit ?? [], roles.yields, names),
    yieldCrop: byFile(options.yieldCrop ?? [], roles.yields, names),
    swathUnit: byFile(options.swathUnit ?? [], roles.yields, names),
    bushel_lb: Object.fromEntries(
      Object.entries(byFile(options.bushelWeight ?? [], roles.yields, names)).map(([name, said]) => [
        name,
        bushelWeight_lb(said) ?? Number.NaN,
      ]),
    ),
    readAs,
  };
  const draft = await draftFromFiles(given.files, { ...roles, boundary: roles.boundary }, said, read);
  const drafted = draft.issues.filter((issue) => !sorted || !told(issue, issues));
  const isFound = ({ where }: Issue) => sorted?.roles.yields.includes(where) ?? false;
  issues.push(...drafted.map((issue) => (isFound(issue) ? withoutMap(issue) : issue)).map(mustBeSaid));
  const reading = readPlan(withChoices(draft.plan, options), options.out);
  issues.push(...reading.issues);
  if (reading.value) tellAssumed(reading.value, options, issues);
  if (reading.value && draft.boundary && !hasError(issues)) layOut(draft.boundary, reading.value, issues);
  const written = reading.value !== null && !hasError(issues);
  if (written)
    saveFile(
      options.out,
      new TextEncoder().encode(`${JSON.stringify(reading.value, null, 2)}\n`),
      options.force ?? false,
    );
  if (options.json)
    tellJson({
      written: written ? options.out : null,
      plan: reading.value,
      files: sorted?.files ?? null,
      issues,
    });
  else {
    tellIssues(issues);
    if (sorted) tell(filesText(sorted.files));
    if (written)
      tell(
        `Plan written: ${options.out}\nRead it, change what you know better, then: eachacre run ${options.out} --out DIR`,
      );
  }
  return written ? DONE : WRONG_INPUT;
}

/** Of two columns one, and of a farm all fields, would be taken in silence by whoever reads no warnings: on the command line it must be said. */
function mustBeSaid(issue: Issue): Issue {
  if (issue.code === 'boundary-farm')
    return { ...issue, severity: 'error', effect: 'The plan is not written' };
  if (issue.code !== 'reading-open' || !issue.found.startsWith('yield column')) return issue;
  return {
    ...issue,
    severity: 'error',
    effect: 'The plan is not written',
    remedy: 'Name the column (command line: --yield-column FILE=COLUMN)',
  };
}

function refuseWithoutBoundary(sorted: Sorted | null, issues: Issue[], options: PlanOptions): number {
  issues.push(noBoundary());
  if (options.json) tellJson({ written: null, plan: null, files: sorted?.files ?? null, issues });
  else {
    if (sorted) tell(filesText(sorted.files));
    tellIssues(issues);
  }
  return WRONG_INPUT;
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
        records: options.record ?? draft.field.records,
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
function checkLineup(files: readonly FileBytes[], name: string, crop: string, issues: Issue[]): void {
  const file = files.find((own) => own.name === name);
  if (!file) return;
  const read = readLineupFile(file);
  issues.push(...read.issues);
  const { lineup } = read;
  if (lineup) tellRefusal(issues, () => usableLineup(lineup, name, crop, []));
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
