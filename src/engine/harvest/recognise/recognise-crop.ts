import type { Source, TextColumn } from '../../layers/source.ts';
import { plainCrop, sameCrop } from '../../math/crop-name.ts';
import { BUSHELS } from '../../math/units.ts';

export interface CropReading {
  /** Null when a column holds several crops and none of them is the planned one. */
  readonly crop: string | null;
  readonly from: 'column' | 'file name' | 'the plan';
  /** Where a column holds several crops: the column, and its texts, commonest first. */
  readonly several: { readonly column: string; readonly levels: readonly string[] } | null;
  /** The text the crop stands under in a column of several. */
  readonly level: string | null;
}

const IN_FILE_NAME: readonly (readonly [RegExp, string])[] = [
  [/soy|bean|soja|soia/i, 'soybean'],
  [/corn|maize|ma[ií]z|milho|ma[iï]s/i, 'corn'],
  [/wheat|trigo|weizen|frumento|tarwe|pszenica|(^|[^a-z])bl[eé]([^a-z]|$)/i, 'wheat'],
  [/barley|cebada|cevada|gerste?|orzo|jeczmien|(^|[^a-z])orge([^a-z]|$)/i, 'barley'],
  [/(^|[^a-z])oats?([^a-z]|$)|avena|hafer/i, 'oats'],
];

/** The crop a file is of: what a crop column says, else the file's name, else the planned crop. */
export function recogniseCrop(source: Source, column: TextColumn | null, planned: string): CropReading {
  const answer = (crop: string | null, from: CropReading['from']): CropReading => ({
    crop,
    from,
    several: null,
    level: null,
  });
  const levels = column ? levelsByCount(column) : [];
  if (column && levels.length === 1) return answer(cropNamed(levels[0], planned), 'column');
  if (column && levels.length > 1) {
    const level = levels.find((text) => sameCrop(cropNamed(text, planned), planned)) ?? null;
    return {
      crop: level === null ? null : planned,
      from: 'column',
      several: { column: column.name, levels },
      level,
    };
  }
  const named = IN_FILE_NAME.find(([word]) => word.test(source.file));
  return named ? answer(named[1], 'file name') : answer(planned, 'the plan');
}

/** A crop as its column writes it: in another language, with a kind (`Yellow corn`), or shortened (`bar`). The planned crop goes first. */
function cropNamed(text: string, planned: string): string {
  const plain = plainCrop(text);
  const known = [plainCrop(planned), ...Object.keys(BUSHELS)];
  const same = known.find((crop) => crop === plain);
  if (same) return same === plainCrop(planned) ? planned : same;
  const started = plain.length >= 3 ? known.find((crop) => crop.startsWith(plain)) : undefined;
  const word = started ?? IN_FILE_NAME.find(([own]) => own.test(text))?.[1] ?? plain;
  return sameCrop(word, planned) ? planned : word;
}

function levelsByCount(column: TextColumn): readonly string[] {
  if (column.levels.length === 1) return column.levels.filter((text) => text.trim() !== '');
  const counts = new Float64Array(column.levels.length);
  for (const code of column.codes) if (code >= 0) counts[code]++;
  return column.levels
    .map((text, code) => ({ text, count: counts[code] }))
    .filter(({ text, count }) => count > 0 && text.trim() !== '')
    .sort((a, b) => b.count - a.count)
    .map(({ text }) => text);
}
