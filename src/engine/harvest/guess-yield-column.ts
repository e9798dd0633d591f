import { columnKey as key } from '../layers/column-key.ts';
import type { NumberColumn, Source } from '../layers/source.ts';
import { median } from '../math/median.ts';
import { howPlausible } from './plausible-yield.ts';
import type { YieldUnit } from './yield-unit.ts';

export interface YieldColumnGuess {
  readonly column: string;
  readonly unit: YieldUnit;
  /** Why this column and unit, in words. */
  readonly because: string;
}

/** The column of yield, by its name, and its unit, by the name or else by what is plausible for the crop. Null when no column is called yield. */
export function guessYieldColumn(source: Source, crop: string): YieldColumnGuess | null {
  const named = source.columns
    .filter((column): column is NumberColumn => column.kind === 'number')
    .map((column) => ({ column, score: yieldScore(key(column.name)) }))
    .filter(({ score }) => score > 0)
    .sort((a, b) => b.score - a.score);
  return named.length === 0 ? null : guessYieldUnit(named[0].column, crop);
}

/** The unit of a column that is known to hold yield. */
export function guessYieldUnit(column: NumberColumn, crop: string): YieldColumnGuess {
  const fromName = unitInName(column.name);
  if (fromName) return { column: column.name, unit: fromName, because: `named ${column.name}` };
  const fromFigures = unitByFigures(column, crop);
  return {
    column: column.name,
    unit: fromFigures,
    because:
      fromFigures === 'unknown'
        ? `named ${column.name}; its unit is not told`
        : `named ${column.name}; figures plausible for ${crop} in ${fromFigures}`,
  };
}

/** The one year a source is of: a column called year that holds one value, or a year in the file name. Null when neither. */
export function guessYear(source: Source): number | null {
  const column = source.columns.find((own) => key(own.name) === 'year');
  if (column?.kind === 'number' && column.values.length > 0) {
    const first = column.values[0];
    if (first > 1950 && first < 2200 && column.values.every((value) => value === first)) return first;
  }
  const inName = source.file.match(/(?:^|\D)((?:19|20)\d\d)(?:\D|$)/);
  return inName ? Number(inName[1]) : null;
}

/** Dry yield before plain yield before wet; a target, an id or a rank of yield is none. */
function yieldScore(name: string): number {
  if (!/yield|yld/.test(name) || /target|goal|id$|rank|class|pct|percent|flag|status/.test(name)) return 0;
  return (
    (/dry/.test(name) ? 30 : /wet/.test(name) ? 5 : 20) +
    (/vol|buac|tha|kgha/.test(name) ? 5 : 0) +
    (name === 'yield' ? 3 : 0) -
    (/mass/.test(name) ? 2 : 0)
  );
}

/** Units in a name of words parted by `_`; bounded by words, so that `yield at harvest` is no `t ha`. */
const UNIT_IN_NAME: readonly (readonly [RegExp, YieldUnit])[] = [
  [/bu(shels?)?_?a(c(res?)?)?(_|$)|bu$/, 'bu/ac'],
  [/kgs?_?(ha|hectares?)(_|$)/, 'kg/ha'],
  [/(^|_)(m?t|tons?|tonnes?)_?(ha|hectares?)(_|$)|tha$/, 't/ha'],
  [/(lbs?|pounds?)_?a(c(res?)?)?(_|$)/, 'lb/ac'],
];

function unitInName(name: string): YieldUnit | null {
  const words = name
    .replace(/([a-z])([A-Z])/g, '$1_$2')
    .toLowerCase()
    .replace(/[^a-z]+/g, '_')
    .replace(/_per_/g, '_');
  return UNIT_IN_NAME.find(([unit]) => unit.test(words))?.[1] ?? null;
}

/** The only unit in which the median is plausible for the crop; `unknown` when none or several are. */
function unitByFigures(column: NumberColumn, crop: string): YieldUnit {
  const middle = median(column.values.filter((value) => value > 0));
  const fits = (['bu/ac', 't/ha', 'kg/ha', 'lb/ac'] as const).filter(
    (unit) =>
      howPlausible(middle, unit, crop) !== 'implausible' && howPlausible(middle, unit, crop) !== 'not told',
  );
  // kg/ha and lb/ac differ by 12 %, so figures alone cannot tell them apart.
  return fits.length === 1 ? fits[0] : 'unknown';
}
