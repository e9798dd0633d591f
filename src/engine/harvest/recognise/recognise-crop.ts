import type { Source, TextColumn } from '../../layers/source.ts';
import { plainCrop, sameCrop } from '../../math/crop-name.ts';
import { BUSHELS } from '../../math/units.ts';
import { cropsIn } from './crop-words.ts';

export interface CropReading {
  /** Null when a column holds several crops and none of them is the planned one. */
  readonly crop: string | null;
  readonly from: 'column' | 'file name' | 'the plan';
  /** Where a column holds several crops, or only another than the one said: the column, and its texts, commonest first. */
  readonly several: { readonly column: string; readonly levels: readonly string[] } | null;
  /** The text the crop stands under in a column of several. */
  readonly level: string | null;
}

/** The crop a file is of: the one said, else what a crop column says, else the file's name, else the planned crop. */
export function recogniseCrop(
  source: Source,
  column: TextColumn | null,
  planned: string,
  said?: string,
): CropReading {
  const answer = (crop: string | null, from: CropReading['from']): CropReading => ({
    crop,
    from,
    several: null,
    level: null,
  });
  const levels = column ? levelsByCount(column) : [];
  const wanted = said ?? planned;
  const level = levels.find((text) => sameCrop(cropNamed(text, wanted), wanted)) ?? null;
  if (column && (levels.length > 1 || (said !== undefined && levels.length === 1 && level === null)))
    return {
      crop: said ?? (level === null ? null : planned),
      from: said === undefined ? 'column' : 'the plan',
      several: { column: column.name, levels },
      level,
    };
  if (said !== undefined) return answer(said, 'the plan');
  if (column && levels.length === 1) return answer(cropNamed(levels[0], planned), 'column');
  // A name that speaks of two crops tells neither.
  const [named, other] = cropsIn(baseName(source.file));
  return named && !other ? answer(asPlanned(named, planned), 'file name') : answer(planned, 'the plan');
}

/** A crop as its column writes it: in another language, with a kind (`Yellow corn`), or shortened (`bar`). The planned crop goes first. */
export function cropNamed(text: string, planned: string): string {
  const plain = plainCrop(text);
  const known = [plainCrop(planned), ...Object.keys(BUSHELS)];
  const same = known.find((crop) => crop === plain);
  if (same) return same === plainCrop(planned) ? planned : same;
  const started = plain.length >= 3 ? known.find((crop) => crop.startsWith(plain)) : undefined;
  return asPlanned(started ?? cropsIn(text)[0] ?? plain, planned);
}

/** A crop by the word the plan has for it, where it is the planned one: `milo` is sorghum. */
function asPlanned(crop: string, planned: string): string {
  return sameCrop(crop, planned) || cropsIn(planned)[0] === crop ? planned : crop;
}

/** Of a file, and of its layer, the name without folders: a folder is called after a farm as a rule. */
function baseName(file: string): string {
  return file
    .split(' › ')
    .map((part) => part.slice(Math.max(part.lastIndexOf('/'), part.lastIndexOf('\\')) + 1))
    .join(' ');
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
