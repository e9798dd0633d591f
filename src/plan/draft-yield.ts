import {
  guessYear,
  guessYieldColumn,
  guessYieldUnit,
  type YieldColumnGuess,
} from '../engine/harvest/guess-yield-column.ts';
import { guessYieldCrop } from '../engine/harvest/guess-yield-crop.ts';
import type { Issue } from '../engine/issue.ts';
import type { NumberColumn, Source } from '../engine/layers/source.ts';
import type { DraftFile, DraftWords } from './draft.ts';
import { planIssue } from './plan-issue.ts';
import type { PlanInput } from './schema.ts';

type YieldPlan = NonNullable<NonNullable<PlanInput['evidence']>['yields']>[number];

/** A crop that is none: such a map says where the ground is better or worse, and not how much it yields. */
const CROP_UNKNOWN = 'unknown';

/** A yield map of the plan to be: its column, unit, year and crop, said or guessed; none when it has no column of yield. */
export function draftYield(file: DraftFile, words: DraftWords, issues: Issue[]): YieldPlan[] {
  const { source, entry } = file;
  if (source?.shape !== 'points') return [];
  const said = words.yieldColumn[entry.id];
  const guess = said === undefined ? guessYieldColumn(source, words.crop) : named(source, said, words.crop);
  if (guess === null) {
    issues.push(
      planIssue(
        'error',
        'yield-column-not-found',
        entry.file,
        `columns ${source.columns.map((column) => column.name).join(', ') || '(none)'}`,
        said === undefined ? 'one called yield' : `a column of numbers called ${said}`,
        'The plan is not written',
        'Name the column (command line: --yield-column)',
      ),
    );
    return [];
  }
  issues.push(
    planIssue(
      'note',
      'yield-column-guessed',
      entry.file,
      `${guess.column} in ${guess.unit} (${guess.because})`,
      'the column of yield',
      'It is written in the plan',
      'Change it there if it is another',
    ),
  );
  const column = source.columns.find(
    (own): own is NumberColumn => own.name === guess.column && own.kind === 'number',
  );
  const crop =
    words.yieldCrop[entry.id] ??
    (column ? guessCrop(source, column, guess, file, words, issues) : CROP_UNKNOWN);
  const unit = guess.unit === '' ? 'unknown' : guess.unit;
  return [{ source: entry.id, column: guess.column, unit, year: guessYear(source), crop }];
}

function named(source: Source, name: string, crop: string): YieldColumnGuess | null {
  const column = source.columns.find(
    (own): own is NumberColumn => own.name === name && own.kind === 'number',
  );
  return column ? guessYieldUnit(column, crop) : null;
}

/** The crop of a map, with a warning where it is only assumed and the figures would sit as well with another. */
function guessCrop(
  source: Source,
  column: NumberColumn,
  guess: YieldColumnGuess,
  file: DraftFile,
  words: DraftWords,
  issues: Issue[],
): string {
  const found = guessYieldCrop(source, column, guess.unit, words.crop);
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
  if (found.crop === null) {
    tell(
      'warning',
      'yield-crop-implausible',
      `figures that are no ${words.crop}, and no word of their crop`,
      'The map counts for where the ground is better or worse, not for how much it yields',
    );
    return CROP_UNKNOWN;
  }
  if (found.from !== 'the plan')
    tell('note', 'yield-crop-guessed', `${found.crop} by its ${found.from}`, 'It is written in the plan');
  else if (found.plausible === 'unusual')
    tell(
      'warning',
      'yield-crop-assumed',
      `no word of its crop; the figures are unusual for ${found.crop}`,
      `It is taken as ${found.crop}, and the yield expected of the field rests on it`,
    );
  else tell('note', 'yield-crop-assumed', 'no word of its crop', `It is taken as ${found.crop}`);
  return found.crop;
}
