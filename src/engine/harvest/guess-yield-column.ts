import type { Source } from '../layers/source.ts';
import { columnWords } from './recognise/column-words.ts';
import { type Recognition, recogniseColumns } from './recognise/recognise-columns.ts';
import { YIELD_UNITS, type YieldUnit } from './yield-unit.ts';

export interface YieldColumnGuess {
  readonly column: string;
  readonly unit: YieldUnit;
  /** Why this column and unit, in words. */
  readonly because: string;
}

/** The column of yield and its unit, as the recognition of columns has it or proposes it. Null when no column can be yield. */
export function guessYieldColumn(source: Source, crop: string): YieldColumnGuess | null {
  return yieldGuess(recogniseColumns(source, crop));
}

/** What a recognition takes for the yield column, or proposes where it asks. */
export function yieldGuess({ yieldReading, yieldBecause }: Recognition): YieldColumnGuess | null {
  if (yieldReading === null) return null;
  return { column: yieldReading.column, unit: asYieldUnit(yieldReading.unit), because: yieldBecause };
}

function asYieldUnit(unit: string): YieldUnit {
  return YIELD_UNITS.find((own) => own === unit) ?? 'unknown';
}

/** Words for a year, alone or with that it is the crop's or the harvest's, in the languages columns are named in. */
const YEAR =
  /^_((crop|harvest|season)_)*(year|ano|anno|annee|jahr|erntejahr|jaar|oogstjaar|rok)_$|^_season_$/;

function yearColumn(source: Source): Source['columns'][number] | undefined {
  return source.columns.find(({ name }) => YEAR.test(columnWords(name)));
}

/** The one year a source is of: a column called year that holds one value, or a year in the file name. Null when neither. */
export function guessYear(source: Source): number | null {
  const column = yearColumn(source);
  if (column?.kind === 'number' && column.values.length > 0) {
    const first = column.values[0];
    if (first > 1950 && first < 2200 && column.values.every((value) => value === first)) return first;
  }
  const inName = source.file.match(/(?:^|\D)((?:19|20)\d\d)(?:\D|$)/);
  return inName ? Number(inName[1]) : null;
}

/** More harvests than this are in no one file. */
const MOST_YEARS = 30;

/** The years of a file of several, from the first, and their column; null of a file of one, or of none that is told. */
export function yearsOf(
  source: Source,
): { readonly column: string; readonly years: readonly number[] } | null {
  const column = yearColumn(source);
  if (column?.kind !== 'number') return null;
  const years = new Set<number>();
  for (const value of column.values) {
    if (Number.isNaN(value)) continue;
    if (!(Number.isInteger(value) && value > 1950 && value < 2200)) return null;
    years.add(value);
    if (years.size > MOST_YEARS) return null;
  }
  return years.size > 1 ? { column: column.name, years: [...years].sort((a, b) => a - b) } : null;
}
