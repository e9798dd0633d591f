import type { Issue } from '../../engine/issue.ts';
import { newTally, note, tallyText } from '../tally.ts';
import type { FigureCells } from './figure-cells.ts';

/** What columns of figures hold beside plain numbers. `texts` and `lines` by record. */
export function figureIssues(
  file: string,
  { column, marked, words }: FigureCells,
  texts: readonly string[],
  lines: Int32Array,
  place: string,
): Issue[] {
  const where = `${file} › ${column.name}`;
  const issues: Issue[] = [];
  if (words.length > 0)
    issues.push({
      code: 'trial-not-figures',
      severity: 'warning',
      where,
      found: `${said(words, texts)}: ${placesOf(words, lines, place)}`,
      expected: 'figures, and blanks where there are none',
      effect: `${words.length} of ${texts.length === 1 ? '1 cell' : `${texts.length} cells`} ${words.length === 1 ? 'is' : 'are'} taken as not known`,
      remedy: 'Write what was measured, or leave these cells blank',
    });
  if (marked.length > 0)
    issues.push({
      code: 'trial-marked-figures',
      severity: 'note',
      where,
      found: `figures with a mark or letters after them, ${said(marked, texts)}: ${placesOf(marked, lines, place)}`,
      expected: 'figures alone',
      effect: 'The figures are read without what stands after them',
      remedy: 'Leave these cells blank if the mark says that the figure is not to be used',
    });
  return issues;
}

export function writtenIssue(where: string, columns: readonly string[]): Issue {
  return {
    code: 'trial-written-figures',
    severity: 'note',
    where,
    found: `figures not written as plain numbers in ${columns.join(', ')}`,
    expected: 'plain numbers',
    effect: 'Blanks and marks that part thousands are left out, a k at the end is a thousand',
    remedy: 'Nothing to do',
  };
}

const MOST_SHOWN = 5;

/** The first few different texts of some records. */
function said(records: readonly number[], texts: readonly string[]): string {
  const different = [...new Set(records.map((record) => texts[record]))];
  const shown = different.slice(0, MOST_SHOWN).map((text) => `'${text.slice(0, 40)}'`);
  return `${shown.join(', ')}${different.length > MOST_SHOWN ? ' and others' : ''}`;
}

function placesOf(records: readonly number[], lines: Int32Array, place: string): string {
  const tally = newTally();
  for (const record of records) note(tally, lines[record]);
  return tallyText(tally, records.length === 1 ? place : `${place}s`);
}
