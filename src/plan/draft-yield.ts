import { guessYear, yearsOf, yieldGuess } from '../engine/harvest/guess-yield-column.ts';
import { basisText } from '../engine/harvest/moisture-basis.ts';
import { type Recognition, recogniseColumns } from '../engine/harvest/recognise/recognise-columns.ts';
import { type ColumnQuestion, LOG_ROLES } from '../engine/harvest/recognise/role.ts';
import type { Told } from '../engine/harvest/recognise/told.ts';
import { YIELD_UNITS } from '../engine/harvest/yield-unit.ts';
import type { Issue } from '../engine/issue.ts';
import type { Source } from '../engine/layers/source.ts';
import type { DraftFile, DraftWords } from './draft.ts';
import { planIssue } from './plan-issue.ts';
import type { PlanInput } from './schema.ts';

type YieldPlan = NonNullable<NonNullable<PlanInput['evidence']>['yields']>[number];

/** A crop that is none: such a map says where the ground is better or worse, and not how much it yields. */
const CROP_UNKNOWN = 'unknown';

/** A yield map of the plan to be: what its columns mean, said or recognised, and what of it is open; none when it holds no yield. */
export function draftYield(file: DraftFile, words: DraftWords, issues: Issue[]): YieldPlan[] {
  const { source, entry } = file;
  if (source?.shape !== 'points') return [];
  const seen = recognise(source, entry.id, words);
  const guess = yieldGuess(seen) ?? grainGuess(seen, words.yieldColumn[entry.id]);
  if (guess === null) {
    issues.push(
      planIssue(
        'error',
        'yield-column-not-found',
        entry.file,
        `${unitless(seen)}columns ${source.columns.map((column) => column.name).join(', ') || '(none)'}`,
        words.yieldColumn[entry.id] === undefined
          ? 'one called yield, or flow, swath and distance or speed with their units'
          : `a column of numbers called ${words.yieldColumn[entry.id]}`,
        'The plan is not written',
        'Name the column (command line: --yield-column)',
      ),
    );
    return [];
  }
  const fromFlow = seen.yieldReading === null;
  const basis = fromFlow ? (seen.columns.moisture ? 'dry' : 'wet') : seen.basis;
  const ofCrop: Issue[] = [];
  const crop = draftCrop(seen, file, words, ofCrop);
  issues.push(
    planIssue(
      'note',
      'yield-column-guessed',
      entry.file,
      `${guess.column} in ${guess.unit}, moisture ${basisText(basis, crop)} (${guess.because})`,
      fromFlow ? 'a column of yield' : 'the column of yield',
      fromFlow ? 'Yield is worked out from it' : 'It is written in the plan',
      'Change it there if it is another',
    ),
  );
  issues.push(...ofCrop);
  for (const question of seen.questions)
    if (question.about !== 'crop') issues.push(openIssue(question, entry.file));
  const { several, level } = seen.crop;
  // What is said goes before what the name of the column says.
  const said = YIELD_UNITS.find((own) => own === words.yieldUnit[entry.id]);
  const map: YieldPlan = {
    source: entry.id,
    column: guess.column,
    unit: said ?? (guess.unit === '' ? 'unknown' : guess.unit),
    year: guessYear(source),
    crop,
    ...(several && level !== null ? { where: { column: several.column, equals: level } } : {}),
    ...draftReadings(seen),
    take: fromFlow ? 'flow' : 'column',
    moisture: basis,
  };
  const years = yearsOf(source);
  if (years === null) return [map];
  const parted = map.where === undefined;
  issues.push(
    planIssue(
      'warning',
      'yield-years-several',
      entry.file,
      `${years.years.length} years in ${years.column}: ${years.years.slice(0, 6).join(', ')}`,
      'one harvest a file',
      parted ? 'Each year becomes a map of its own' : `All its ${level} counts as one harvest`,
      parted
        ? 'Nothing to do, or leave out a year'
        : 'Part the file by year, if it holds more than one harvest',
    ),
  );
  if (!parted) return [map];
  return years.years.map((year) => ({ ...map, year, where: { column: years.column, equals: String(year) } }));
}

/** What the other columns mean, and the readings that are a guess between plausible ones. A column or unit in doubt is not used until it is settled. */
export function draftReadings({ columns, questions }: Recognition): Pick<YieldPlan, 'columns' | 'open'> {
  const known = LOG_ROLES.flatMap((role) => (columns[role] ? [[role, { ...columns[role] }] as const] : []));
  return { columns: Object.fromEntries(known), open: questions.map(({ about }) => about) };
}

function recognise(source: Source, id: string, words: DraftWords): Recognition {
  const said: Told = words.yieldCrop[id] === undefined ? {} : { crop: words.yieldCrop[id] };
  const column = words.yieldColumn[id];
  const unit = words.yieldUnit[id];
  const first = recogniseColumns(
    source,
    words.crop,
    column === undefined ? said : { ...said, columns: { yield: { column } } },
  );
  if (unit === undefined || first.yieldReading === null) return first;
  return recogniseColumns(source, words.crop, {
    ...said,
    columns: { yield: { column: first.yieldReading.column, unit } },
  });
}

/** What keeps grain and ground from making a yield. */
function unitless({ columns }: Recognition): string {
  const open = [columns.mass ?? columns.flow, columns.swath, columns.distance ?? columns.speed].filter(
    (own) => own?.unit === 'unknown',
  );
  return open.length === 0 ? '' : `no unit told of ${open.map((own) => own?.column).join(', ')}; `;
}

/** Where there is no column of yield: grain, from which it can be worked out. */
function grainGuess({ columns }: Recognition, said: string | undefined) {
  const grain = columns.mass ?? columns.flow;
  const ground = columns.swath && (columns.distance ?? columns.speed);
  const known = [grain, columns.swath, ground].every((own) => own && own.unit !== 'unknown');
  if (said !== undefined || !grain || !known) return null;
  return {
    column: grain.column,
    unit: 'unknown' as const,
    because: 'no column of yield, but grain and ground',
  };
}

/** The crop of a map, with a warning where it is only assumed and the figures would sit as well with another. */
function draftCrop(seen: Recognition, file: DraftFile, words: DraftWords, issues: Issue[]): string {
  const said = words.yieldCrop[file.entry.id];
  if (said !== undefined) return said;
  const question = seen.questions.find(({ about }) => about === 'crop');
  const tell = (severity: 'warning' | 'note', code: string, what: string, effect: string) =>
    issues.push(
      planIssue(
        severity,
        code,
        file.entry.file,
        what,
        'the crop the map is of',
        effect,
        'Say it if it is another (command line: --yield-crop FILE=CROP)',
      ),
    );
  const { crop, from, several, level } = seen.crop;
  if (several) {
    tell(
      'warning',
      'yield-crops-several',
      `${several.levels.length} crops in ${several.column}: ${several.levels.slice(0, 4).join(', ')}`,
      level === null
        ? 'The map counts for where the ground is better or worse'
        : `Only records of ${level} are taken`,
    );
    return crop ?? CROP_UNKNOWN;
  }
  if (question) {
    const taken = question.options[question.proposed];
    const other = question.options
      .map(({ value }) => value)
      .filter((value) => value !== taken.value && value !== CROP_UNKNOWN);
    if (taken.value === CROP_UNKNOWN) {
      tell(
        'warning',
        'yield-crop-implausible',
        `figures that are no ${words.crop}, and no word of their crop`,
        'The map counts for where the ground is better or worse, not for how much it yields',
      );
    } else {
      tell(
        'warning',
        'yield-crop-assumed',
        `no word of its crop; it may be ${taken.value} (${taken.because}) or ${other.join(' or ')}`,
        `It is taken as ${taken.value}, and the yield expected of the field rests on it`,
      );
    }
    return taken.value;
  }
  const found = crop ?? CROP_UNKNOWN;
  if (from === 'the plan')
    tell('note', 'yield-crop-assumed', 'no word of its crop', `It is taken as ${found}`);
  else tell('note', 'yield-crop-guessed', `${found} by its ${from}`, 'It is written in the plan');
  return found;
}

/** An open reading, told: what the options are, and what is done until one is said. */
export function openIssue(question: ColumnQuestion, where: string): Issue {
  const listed = question.options.map(({ value, because }) => `${value} (${because})`).join(' or ');
  return planIssue(
    'warning',
    'reading-open',
    where,
    `${question.about}: ${listed}`,
    'one reading only',
    openEffect(question),
    'Settle it in the Evidence stop, or in the plan',
  );
}

function openEffect({ about, options, proposed }: ColumnQuestion): string {
  if (about === 'bushel weight') return 'Its bushels are counted as bushels of the crop';
  if (about === 'moisture basis') return 'Moisture is not counted in, whichever it is';
  if (about === 'yield column') return `${options[proposed].value} is taken until it is said`;
  return 'What rests on it is left out until it is said';
}
