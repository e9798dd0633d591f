import type { Issue } from '../../engine/issue.ts';
import type { Rating, RatingScale } from '../../engine/lineup/product.ts';
import { newTally, note, tallyText } from '../tally.ts';
import { figureOf } from '../text/figure-text.ts';
import { ratedBy } from './lineup-columns.ts';
import type { LineupRow, LineupSheet } from './lineup-sheet.ts';
import { scaleOf } from './scale-text.ts';

export interface RatingOptions {
  /** Of every rating nothing else tells the scale of. */
  readonly scale?: RatingScale;
  /** By column. */
  readonly scales?: Readonly<Record<string, RatingScale>>;
}

export interface RatingsRead {
  readonly scales: readonly RatingScale[];
  readonly of: (row: LineupRow) => readonly Rating[];
  readonly issues: readonly Issue[];
}

const LONGEST_OF = 80;

/**
 * The columns that are nothing else, as ratings by what they rate. Without a scale and its direction they are left out: 1 is the best here and the worst there. What
 * is blank or not rated is no rating, never zero.
 */
export function readRatings(sheet: LineupSheet, options: RatingOptions, where: string): RatingsRead {
  const taken = new Set(sheet.role.values());
  const issues: Issue[] = [];
  const scales: RatingScale[] = [];
  const rated: { column: number; of: string; scale: RatingScale }[] = [];
  const unused: string[] = [];
  for (const [column, name] of sheet.columns.entries()) {
    if (taken.has(column)) continue;
    const of = ratedBy(name) ?? name;
    const at = `${where} › ${name}`;
    const figures = sheet.rows.filter(({ cells }) => known(figureOf(cells[column], false)));
    if (figures.length === 0 && sheet.scales[column] === '' && ratedBy(name) === null) {
      if (sheet.rows.some(({ cells }) => figureOf(cells[column], false) !== null)) unused.push(name);
      continue;
    }
    const said = stated(options, name) ?? scaleOf(sheet.scales[column]) ?? options.scale ?? null;
    const twin = said && scales.find(({ id }) => id === said.id);
    const sound = said !== null && said.lowest < said.highest && (!twin || same(twin, said));
    if (!sound || of.length > LONGEST_OF || of === '') {
      issues.push(sound ? nameless(at, of) : noDirection(at, sheet.scales[column], twin ?? null));
      continue;
    }
    if (!twin) scales.push(said);
    rated.push({ column, of, scale: twin ?? said });
    issues.push(...offScale(sheet, column, said, at));
  }
  if (unused.length > 0) issues.push(notUsed(where, unused));
  return {
    scales,
    issues,
    of: ({ cells }) =>
      rated.flatMap(({ column, of, scale }) => {
        const value = figureOf(cells[column], false);
        return known(value) && within(value, scale) ? [{ of, value, scale: scale.id }] : [];
      }),
  };
}

function stated({ scales }: RatingOptions, name: string): RatingScale | null {
  return scales && Object.hasOwn(scales, name) ? scales[name] : null;
}

function known(value: number | null): value is number {
  return value !== null && Number.isFinite(value);
}

function within(value: number, { lowest, highest }: RatingScale): boolean {
  return value >= lowest && value <= highest;
}

function same(a: RatingScale, b: RatingScale): boolean {
  return a.lowest === b.lowest && a.highest === b.highest && a.best === b.best;
}

function offScale({ rows }: LineupSheet, column: number, scale: RatingScale, where: string): Issue[] {
  const off = newTally();
  const words = newTally();
  for (const { line, cells } of rows) {
    const value = figureOf(cells[column], false);
    if (value === null) continue;
    if (!known(value)) note(words, `${line} '${cells[column].slice(0, 40)}'`);
    else if (!within(value, scale)) note(off, line);
  }
  const issue = (code: string, found: string, expected: string): Issue => ({
    code,
    severity: 'warning',
    where,
    found,
    expected,
    effect: 'These ratings are left out',
    remedy: 'Correct them, or leave them blank where nothing was rated',
  });
  return [
    ...(off.count > 0
      ? [
          issue(
            'rating-off-scale',
            tallyText(off, off.count === 1 ? 'line' : 'lines'),
            `${scale.lowest} to ${scale.highest}`,
          ),
        ]
      : []),
    ...(words.count > 0
      ? [
          issue(
            'rating-not-a-number',
            tallyText(words, words.count === 1 ? 'line' : 'lines'),
            'numbers, NR or blanks',
          ),
        ]
      : []),
  ];
}

function noDirection(where: string, written: string, twin: RatingScale | null): Issue {
  return {
    code: 'rating-no-direction',
    severity: 'warning',
    where,
    found: twin
      ? `a second scale called ${twin.id}, of other ends or direction`
      : written === ''
        ? 'ratings without a scale'
        : `a scale '${written.slice(0, 80)}' without ends or direction`,
    expected: 'a row called scale with, in this column, the ends and the best: 1 to 9, 9 best',
    effect: 'These ratings are left out, since whether high is good cannot be told',
    remedy: 'Add the row, or state the scale',
  };
}

function nameless(where: string, of: string): Issue {
  return {
    code: 'rating-name',
    severity: 'warning',
    where,
    found: of === '' ? 'ratings of nothing named' : `a name of ${of.length} letters`,
    expected: `what is rated, in up to ${LONGEST_OF} letters`,
    effect: 'These ratings are left out',
    remedy: 'Give the column a short name',
  };
}

function notUsed(where: string, columns: readonly string[]): Issue {
  return {
    code: 'lineup-column-unused',
    severity: 'note',
    where,
    found: `columns ${columns.slice(0, 20).join(', ')}${columns.length > 20 ? ', …' : ''}`,
    expected: 'columns of a product, and ratings in numbers',
    effect: 'They are not read',
    remedy: 'Put what matters in them into the notes',
  };
}
