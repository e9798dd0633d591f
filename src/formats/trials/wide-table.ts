import { Refusal } from '../../engine/issue.ts';
import type { Column } from '../../engine/layers/source.ts';
import { headerText } from './header-text.ts';
import { roleNamed } from './trial-words.ts';

/** A number at the end of a name, as of a population or a year: what comes before it, and the number. */
const NUMBERED = /^(.*?)_?(\d[\d_]*?)(k|000)?_$/;

/**
 * Refuses a table with a column for every stand, year or product instead of a row for every plot: columns of figures that are called alike but for a number (`24000`,
 * `28000`; `yield_2021`, `yield_2022`).
 */
export function refuseWide(columns: readonly Column[], where: string): void {
  const groups = new Map<string, string[]>();
  for (const { name, kind } of columns) {
    const match = kind === 'number' ? NUMBERED.exec(headerText(name).slice(1)) : null;
    if (
      !match ||
      !/^(yield|yld|pop(ulation)?|stand|plants|ertrag|rendement|rendimiento|opbrengst|udbytte|column)?_?$/.test(
        match[1],
      )
    )
      continue;
    const number = Number(match[2].replaceAll('_', ''));
    if (match[1].startsWith('column') || number < 10) continue;
    groups.set(match[1], [...(groups.get(match[1]) ?? []), name]);
  }
  for (const names of groups.values()) if (names.length >= 2) refuse(where, names, 'stand or year');
}

/** Refuses a table without a column of yields that has several columns of figures nobody named: products side by side, as like as not. Another table goes on. */
export function refuseProductsAcross(columns: readonly Column[], where: string): void {
  const unnamed = columns.filter(({ name, kind }) => kind === 'number' && roleNamed(name) === null);
  if (unnamed.length >= 3)
    refuse(
      where,
      unnamed.map(({ name }) => name),
      'product',
    );
}

function refuse(where: string, names: readonly string[], what: string): never {
  const shown = `${names.slice(0, 6).join(', ')}${names.length > 6 ? ', …' : ''}`;
  throw new Refusal({
    code: 'trial-wide',
    where,
    found: `columns ${shown}: one for each ${what}, as it seems`,
    expected: 'one row for each plot, with its product, site, stand and yield in columns of those names',
    effect: 'The trials were not read',
    remedy: `Put these columns under one another: their names into a column of the ${what}, their figures into one of the yield`,
  });
}
