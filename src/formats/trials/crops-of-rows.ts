import { cropsIn } from '../../engine/harvest/recognise/crop-words.ts';
import { cropNamed } from '../../engine/harvest/recognise/recognise-crop.ts';
import { Refusal } from '../../engine/issue.ts';
import type { ChosenColumn } from './trial-columns.ts';
import type { TrialOptions } from './trial-options.ts';
import type { TrialSheet } from './trial-sheet.ts';

export interface RowCrops {
  /** By record; '' where its cell is blank. */
  readonly of: (record: number) => string;
  /** All of them. */
  readonly crops: readonly string[];
  readonly because: string;
}

/** The crop of every row: of its column, else as stated, else of the file's name. Throws a Refusal where nothing tells. */
export function cropsOfRows(
  sheet: TrialSheet,
  column: ChosenColumn | undefined,
  options: TrialOptions,
): RowCrops {
  // As a column of crops is read: `Corn`, `maize`.
  const said = options.crop?.trim() ?? '';
  const crop = said === '' ? '' : cropNamed(said, '');
  if (column) {
    const named = new Map<string, string>([['', crop]]);
    const texts = sheet.texts(column.column).map((text) => {
      const own = named.get(text) ?? cropWithin(text, crop);
      named.set(text, own);
      return own;
    });
    const crops = [...new Set(texts)].filter((own) => own !== '');
    if (crops.length > 0)
      return { of: (record) => texts[record], crops, because: `column ${column.column.name}` };
  }
  if (crop !== '') return one(crop, 'as stated');
  const base = sheet.file.slice(Math.max(sheet.file.lastIndexOf('/'), sheet.file.lastIndexOf('\\')) + 1);
  const [named, other] = cropsIn(base);
  if (named && !other) return one(named, 'named in the file name');
  throw new Refusal({
    code: 'trial-no-crop',
    where: sheet.file,
    found: 'no crop: no column of crops, and none in the file name',
    expected: 'a column crop, or the crop stated',
    effect:
      'The trials were not read, since what is a usual yield and stand, and what a bushel weighs, goes by the crop',
    remedy: 'State the crop, or add a column crop',
  });
}

function one(crop: string, because: string): RowCrops {
  return { of: () => crop, crops: [crop], because };
}

/** Letters in the longest crop a lineup holds; a remark is none. */
const LONGEST = 40;

function cropWithin(text: string, stated: string): string {
  const own = cropNamed(text, stated);
  return own.length <= LONGEST ? own : '';
}
