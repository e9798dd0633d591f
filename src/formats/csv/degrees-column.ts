import type { Issue } from '../../engine/issue.ts';
import type { Column } from '../../engine/layers/source.ts';
import { newTally, note, tallyText } from '../tally.ts';
import { degreesFromText } from './degrees-text.ts';

/**
 * Degrees of a column named for longitude or latitude, from numbers or from words such as N42 03.5; NaN where it holds nothing or a word that is no position.
 * `values` is null where fewer than 95 % of its words can be read.
 */
export function degreesColumn(
  column: Column,
  axis: 'lon' | 'lat',
  where: string,
): { values: Float64Array | null; issues: Issue[] } {
  if (column.kind === 'number') return { values: column.values, issues: [] };
  const degrees = column.levels.map((level) => degreesFromText(level, axis));
  const unread = newTally();
  let known = 0;
  const values = Float64Array.from(column.codes, (code, row) => {
    if (code < 0) return Number.NaN;
    known++;
    if (Number.isNaN(degrees[code])) note(unread, `${row + 1} '${column.levels[code].slice(0, 40)}'`);
    return degrees[code];
  });
  const expected = 'degrees, or degrees and minutes with a hemisphere';
  const tell = (
    code: string,
    severity: Issue['severity'],
    found: string,
    effect: string,
    remedy: string,
  ): Issue => ({
    code,
    severity,
    where: `${where} › ${column.name}`,
    found,
    expected,
    effect,
    remedy,
  });
  if (known === 0) return { values, issues: [] };
  const list = tallyText(unread, unread.count === 1 ? 'record' : 'records');
  if (unread.count > 0.05 * known) {
    const remedy = 'Export decimal degrees';
    return {
      values: null,
      issues: [tell('positions-unreadable', 'warning', list, 'The table is read without positions', remedy)],
    };
  }
  const first = column.levels.find((_, level) => !Number.isNaN(degrees[level]));
  const issues = [
    tell(
      'position-notation',
      'note',
      `positions such as ${first}`,
      'They are read as degrees',
      'Nothing to do',
    ),
  ];
  if (unread.count > 0) {
    const effect = 'These records are set aside: kept, but without a place';
    issues.push(
      tell('position-unreadable', 'warning', list, effect, 'Correct these positions if they matter'),
    );
  }
  return { values, issues };
}
