import { columnKey } from '../layers/column-key.ts';
import type { NumberColumn, Source } from '../layers/source.ts';
import { plainCrop, sameCrop } from '../math/crop-name.ts';
import { median } from '../math/median.ts';
import { howPlausible, type Plausibility } from './plausible-yield.ts';
import type { YieldUnit } from './yield-unit.ts';

export interface YieldCropGuess {
  /** Null when the figures cannot be of the planned crop and nothing says of which they are. */
  readonly crop: string | null;
  readonly from: 'column' | 'file name' | 'the plan';
  /** How the median yield sits with that crop (with the planned one where it is null). */
  readonly plausible: Plausibility;
}

const IN_FILE_NAME: readonly (readonly [RegExp, string])[] = [
  [/soy|bean/i, 'soybean'],
  [/corn|maize/i, 'corn'],
  [/wheat/i, 'wheat'],
  [/barley/i, 'barley'],
  [/oats/i, 'oats'],
];

/** The crop a yield map is of: what a crop column says, else the file's name, else the planned crop if the figures can be of it. */
export function guessYieldCrop(
  source: Source,
  column: NumberColumn,
  unit: YieldUnit,
  planned: string,
): YieldCropGuess {
  const middle = median(column.values.filter((value) => value > 0));
  const answer = (crop: string, from: YieldCropGuess['from']) => ({
    crop,
    from,
    plausible: howPlausible(middle, unit, crop),
  });
  const told = inColumn(source, planned);
  if (told !== null) return answer(told, 'column');
  const named = IN_FILE_NAME.find(([word]) => word.test(source.file));
  if (named) return answer(named[1], 'file name');
  const assumed = answer(planned, 'the plan');
  return assumed.plausible === 'implausible' ? { ...assumed, crop: null } : assumed;
}

/** A crop column with one crop in it; the planned crop may stand there shortened (`bar` for barley). */
function inColumn(source: Source, planned: string): string | null {
  const column = source.columns.find((own) => ['crop', 'cropname', 'grain'].includes(columnKey(own.name)));
  if (column?.kind !== 'text' || column.levels.length !== 1) return null;
  const level = column.levels[0].trim();
  if (level.length >= 3 && plainCrop(planned).startsWith(level.toLowerCase())) return planned;
  return sameCrop(level, planned) ? planned : plainCrop(level);
}
