import type { NumberColumn, Source } from '../layers/source.ts';
import { median } from '../math/median.ts';
import { bushelOf, type YieldUnit, yieldIn_buPerAc } from './yield-unit.ts';

export interface YieldColumnGuess {
  readonly column: string;
  readonly unit: YieldUnit;
  /** Why this column and unit, in words. */
  readonly because: string;
}

/** Plausible medians of dry yield by crop, bu/ac: where a unit may be guessed from the figures. Common practice, no source. */
const PLAUSIBLE_BU_PER_AC: Readonly<Record<string, readonly [number, number]>> = {
  corn: [40, 320],
  soybean: [12, 110],
  wheat: [15, 160],
  oats: [20, 180],
  barley: [15, 180],
};

/** The column of yield, by its name, and its unit, by the name or else by what is plausible for the crop. Null when no column is called yield. */
export function guessYieldColumn(source: Source, crop: string): YieldColumnGuess | null {
  const named = source.columns
    .filter((column): column is NumberColumn => column.kind === 'number')
    .map((column) => ({ column, score: yieldScore(key(column.name)) }))
    .filter(({ score }) => score > 0)
    .sort((a, b) => b.score - a.score);
  if (named.length === 0) return null;
  const { column } = named[0];
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

function key(name: string): string {
  return name.toLowerCase().replace(/[^a-z0-9]/g, '');
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
  const range = PLAUSIBLE_BU_PER_AC[crop.toLowerCase().replace(/s$/, '')];
  if (!range || bushelOf(crop) === null) return 'unknown';
  const middle = median(column.values.filter((value) => value > 0));
  const fits = (['bu/ac', 't/ha', 'kg/ha', 'lb/ac'] as const).filter((unit) => {
    const bushels = yieldIn_buPerAc(middle, unit, crop);
    return bushels !== null && bushels >= range[0] && bushels <= range[1];
  });
  // kg/ha and lb/ac differ by 12 %, so figures alone cannot tell them apart.
  return fits.length === 1 ? fits[0] : 'unknown';
}
