import { guessYear, yearsOf, yieldGuess } from '../engine/harvest/guess-yield-column.ts';
import { basisText } from '../engine/harvest/moisture-basis.ts';
import { type Recognition, recogniseColumns } from '../engine/harvest/recognise/recognise-columns.ts';
import { type ColumnQuestion, LOG_ROLES } from '../engine/harvest/recognise/role.ts';
import type { Told } from '../engine/harvest/recognise/told.ts';
import { YIELD_UNITS } from '../engine/harvest/yield-unit.ts';
import type { Issue } from '../engine/issue.ts';
import { pickRows, rowsWhere } from '../engine/layers/pick-rows.ts';
import type { Source } from '../engine/layers/source.ts';
import type { DraftFile, DraftWords } from './draft.ts';
import { planIssue } from './plan-issue.ts';
import type { PlanInput } from './schema.ts';

type YieldPlan = NonNullable<NonNullable<PlanInput['evidence']>['yields']>[number];

/** A crop that is none: such a map says where the ground is better or worse, and not how much it yields. */
const CROP_UNKNOWN = 'unknown';

/** The yield expected of a field is not taken from a map whose column, unit or crop is open. */
const NOT_EXPECTED = 'until it is said, the yield expected of the field does not rest on the map';

/** A yield map of the plan to be: what its columns mean, said or recognised, and what of it is open; none when it holds no yield. */
export function draftYield(file: DraftFile, words: DraftWords, issues: Issue[]): YieldPlan[] {
  const { source, entry } = file;
  if (source?.shape !== 'points') return [];
  const seen = recognise(source, entry.id, words);
  const bushel_lb = words.bushel_lb?.[entry.id];
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
  if (crop === null) {
    issues.push(...ofCrop);
    return [];
  }
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
    ...(bushel_lb === undefined ? {} : { bushel_lb }),
  };
  if (words.swathUnit?.[entry.id] !== undefined && !seen.columns.swath) issues.push(noSwath(file));
  for (const question of seen.questions)
    if (question.about !== 'crop') issues.push(openIssue(question, entry.file, map));
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

function noSwath({ entry, source }: DraftFile): Issue {
  return planIssue(
    'warning',
    'swath-column-not-found',
    entry.file,
    `columns ${source?.columns.map((column) => column.name).join(', ')}`,
    'one that is the width of the swath beyond doubt',
    'The unit said of it is not used',
    'Settle the column at the Evidence stop, or name it in the plan',
  );
}

/** What a file holds; of one of several crops, what the records of the crop hold. */
function recognise(source: Source, id: string, words: DraftWords): Recognition {
  const said = words.yieldCrop[id];
  const whole = recogniseAs(source, id, words, said);
  const { crop, several, level } = whole.crop;
  const rows = several && level !== null && rowsWhere(source, { column: several.column, equals: level });
  if (!rows) return whole;
  const own = recogniseAs(pickRows(source, rows), id, words, crop ?? said);
  const ofCrop = whole.questions.filter(({ about }) => about === 'crop');
  return { ...own, crop: whole.crop, questions: [...ofCrop, ...own.questions] };
}

function recogniseAs(source: Source, id: string, words: DraftWords, crop: string | undefined): Recognition {
  const said: Told = crop === undefined ? {} : { crop };
  const column = words.yieldColumn[id];
  const columns = column === undefined ? {} : { yield: { column } };
  const first = withoutSaid(recogniseColumns(source, words.crop, { ...said, columns }), id, words);
  const [unit, swathUnit] = [words.yieldUnit[id], words.swathUnit?.[id]];
  const { swath } = first.columns;
  const units = {
    ...(unit === undefined || first.yieldReading === null
      ? {}
      : { yield: { column: first.yieldReading.column, unit } }),
    ...(swathUnit === undefined || !swath ? {} : { swath: { column: swath.column, unit: swathUnit } }),
  };
  if (Object.keys(units).length === 0) return first;
  const second = recogniseColumns(source, words.crop, { ...said, columns: { ...columns, ...units } });
  return withoutSaid(second, id, words);
}

/** What a bushel weighs is no question where it is said. */
function withoutSaid(seen: Recognition, id: string, words: DraftWords): Recognition {
  if (words.bushel_lb?.[id] === undefined) return seen;
  return { ...seen, questions: seen.questions.filter(({ about }) => about !== 'bushel weight') };
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

/** The crop of a map, with a warning where it is only assumed and the figures would sit as well with another; null where the one said is not in the file. */
function draftCrop(seen: Recognition, file: DraftFile, words: DraftWords, issues: Issue[]): string | null {
  const said = words.yieldCrop[file.entry.id];
  const question = seen.questions.find(({ about }) => about === 'crop');
  const remedy = 'Say it if it is another (command line: --yield-crop FILE=CROP)';
  const tell = (severity: Issue['severity'], code: string, what: string, effect: string) =>
    issues.push(planIssue(severity, code, file.entry.file, what, 'the crop the map is of', effect, remedy));
  const { crop, from, several, level } = seen.crop;
  const texts = several?.levels.slice(0, 10).join(', ');
  if (said !== undefined) {
    if (several && level !== null)
      tell(
        'note',
        'yield-crops-several',
        `crops ${texts} in ${several.column}`,
        `Only records of ${level} are taken`,
      );
    else if (several && several.levels.length > 1) {
      tell(
        'error',
        'yield-crop-not-in-file',
        `no ${said} in ${several.column}, but ${texts}`,
        'The plan is not written',
      );
      return null;
    } else if (several)
      tell(
        'warning',
        'yield-crop-contradicted',
        `${texts} in ${several.column}`,
        `It is taken as ${said}, as said`,
      );
    return said;
  }
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
        `It is taken as ${taken.value}; ${NOT_EXPECTED}`,
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

/** What the words on an open reading rest on. */
type Taken = Pick<YieldPlan, 'column' | 'unit' | 'crop' | 'moisture' | 'take'>;

/** Words of the command line that settle a reading. */
const FLAGS: Readonly<Record<string, string>> = {
  'yield column': ' (command line: --yield-column FILE=COLUMN)',
  'yield unit': ' (command line: --yield-unit FILE=UNIT)',
  crop: ' (command line: --yield-crop FILE=CROP)',
};

/** An open reading, told: what the options are, and what the map goes by until one is said. */
export function openIssue(question: ColumnQuestion, where: string, map: Taken): Issue {
  const listed = question.options.map(({ value, because }) => `${value} (${because})`).join(' or ');
  return planIssue(
    'warning',
    'reading-open',
    where,
    `${question.about}: ${listed}`,
    'one reading only',
    openEffect(question.about, map),
    `Settle it in the Evidence stop, or in the plan${FLAGS[question.about] ?? ''}`,
  );
}

function openEffect(about: ColumnQuestion['about'], map: Taken): string {
  const ofColumn = about.startsWith('yield ') || about === 'bushel weight' || about === 'moisture basis';
  if (ofColumn && map.take === 'flow') return 'Nothing rests on it: the yield is worked out from flow';
  if (about === 'bushel weight') return 'Its bushels are counted as bushels of the crop';
  if (about === 'moisture basis') {
    if (map.moisture === 'dry') return 'It is taken as dry until it is said';
    if (map.moisture === 'wet') return 'It is taken as cut, and brought to dry, until it is said';
    return 'The figures stand as the file gives them, with nothing taken off for moisture, until it is said';
  }
  if (about === 'yield column') return `${map.column} is taken; ${NOT_EXPECTED}`;
  if (about === 'yield unit')
    return map.unit === undefined || map.unit === 'unknown'
      ? 'The map tells where the ground is better or worse, and not how much it yields, until it is said'
      : `It is taken to be in ${map.unit}; ${NOT_EXPECTED}`;
  if (about === 'crop')
    return map.crop === CROP_UNKNOWN
      ? 'The map tells where the ground is better or worse, and not how much it yields, until it is said'
      : `It is taken as ${map.crop ?? 'the planned crop'}; ${NOT_EXPECTED}`;
  return 'What rests on it is left out until it is said';
}
