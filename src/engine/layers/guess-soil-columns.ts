import { sameCrop } from '../math/crop-name.ts';
import { columnKey as key } from './column-key.ts';
import { cellValue, type NumberColumn, type Source } from './source.ts';

export interface SoilColumnGuess {
  readonly column: string;
  readonly meaning: 'yield' | 'index';
  readonly where: { readonly column: string; readonly equals: string } | null;
}

/** What a column says of the ground, best first. */
export type SoilMeasure = 'crop yield' | 'productivity' | 'water held' | 'organic matter';

/** Productivity indices of the public soil survey made for one crop or group of crops. */
const INDEX_OF_CROP: Readonly<Record<string, string>> = {
  corn: 'nccpi3corn',
  soybean: 'nccpi3soy',
  cotton: 'nccpi3cot',
  wheat: 'nccpi3sg',
  barley: 'nccpi3sg',
  oat: 'nccpi3sg',
};

/** Yield ratings in tables of the public soil survey, best first: without irrigation, and with. */
const RATINGS = ['nonirryieldr', 'nonirryield', 'irryieldr', 'irryield'];

/** Productivity ratings, best first, as the public soil survey and common exports name them. */
const PRODUCTIVITY = [
  'nccpi3all',
  'nccpi',
  'nccpi3corn',
  'nccpi3soy',
  'iacornsr',
  'csr2',
  'csr',
  'productivity',
  'pi',
  'cropprodindex',
];

/** Water held, deepest first. */
const WATER = [
  'rootznaws',
  'aws0150wta',
  'aws0150',
  'aws0100wta',
  'aws0100',
  'aws',
  'availablewater',
  'waterheld',
  'water',
];

/** The columns that say what the ground can yield, best first: a yield rating of the crop, else indices of productivity, else of water held. */
export function guessSoilColumns(
  source: Source,
  crop: string,
): (SoilColumnGuess & { readonly measure: SoilMeasure })[] {
  const numbers = source.columns.filter(
    (column): column is NumberColumn =>
      column.kind === 'number' && column.values.some((value) => !Number.isNaN(value)),
  );
  const byCrop = cropRows(source, crop);
  const ratings = RATINGS.flatMap((wanted) =>
    numbers.filter((column) => byCrop && key(column.name) === wanted),
  );
  const singular = crop.trim().toLowerCase().replace(/s$/, '');
  // SOY_BU as well as SOYBEAN_BU.
  const short = singular === 'soybean' ? 'soy' : singular;
  const own = numbers.filter((column) => {
    const name = key(column.name);
    return (
      (name.includes(short) && saysYield(column.name.toLowerCase().replace(short, '_'))) ||
      /^(yield|yieldrating|cropyield)$/.test(name)
    );
  });
  const ofCrop = Object.hasOwn(INDEX_OF_CROP, singular) ? [INDEX_OF_CROP[singular]] : [];
  const called = (index: string) =>
    numbers.find(({ name }) => key(name) === index || (index.length > 5 && key(name).startsWith(index))) ??
    [];
  const index = (measure: SoilMeasure) => (column: NumberColumn) => ({
    column: column.name,
    meaning: 'index' as const,
    where: null,
    measure,
  });
  return [
    ...ratings.map(({ name }) => ({
      column: name,
      meaning: 'yield' as const,
      where: byCrop,
      measure: 'crop yield' as const,
    })),
    ...own.map(({ name }) => ({
      column: name,
      meaning: 'yield' as const,
      where: null,
      measure: 'crop yield' as const,
    })),
    ...[...ofCrop, ...PRODUCTIVITY].flatMap(called).map(index('productivity')),
    ...WATER.flatMap(called).map(index('water held')),
  ];
}

/** Whether a name speaks of a yield or of bushels, in words of their own: not `Bulk_Density`, nor `buffer_ph`. */
export function saysYield(name: string): boolean {
  const words = name.replace(/([a-z])([A-Z])/g, '$1_$2').toLowerCase();
  return /yield|yld|(^|[^a-z])(bu|bushels?|bpa)([^a-z]|_?(per)?_?ac|$)/.test(words);
}

/** The best of them, null when there is none. */
export function guessSoilColumn(source: Source, crop: string): SoilColumnGuess | null {
  const [best] = guessSoilColumns(source, crop);
  return best ? { column: best.column, meaning: best.meaning, where: best.where } : null;
}

/** How good a column is among all that say the same, from 0: the order above, any other name last. */
export function soilColumnRank(column: string, crop: string): number {
  const singular = crop.trim().toLowerCase().replace(/s$/, '');
  const own = Object.hasOwn(INDEX_OF_CROP, singular) ? [INDEX_OF_CROP[singular]] : [];
  const list = [...RATINGS, ...own, ...PRODUCTIVITY, ...WATER];
  const at = list.findIndex(
    (name) => key(column) === name || (name.length > 5 && key(column).startsWith(name)),
  );
  return at < 0 ? list.length : at;
}

/** Unit of a column of the public soil survey, '' where it has none: water held is in cm in one of its tables and in mm in another. */
export function soilUnit(column: string, how: 'mean' | 'sum'): string {
  const name = key(column);
  if (/^aws0\d+wta$/.test(name)) return 'cm';
  if (/^aws0\d+$|^rootznaws$/.test(name)) return 'mm';
  if (name === 'awcr') return how === 'sum' ? 'cm' : 'cm/cm';
  return name === 'omr' || name === 'claytotalr' ? '%' : '';
}

/** The column that names the map unit, null when none looks like it. */
export function guessSoilLabel(source: Source): string | null {
  for (const wanted of ['musym', 'mapunit', 'soil', 'symbol', 'muname', 'name']) {
    const column = source.columns.find((candidate) => key(candidate.name) === wanted);
    if (column) return column.name;
  }
  return source.columns.find((column) => column.kind === 'text')?.name ?? null;
}

/** In a table of yields by crop, the rows of the plan's crop: `Corn`, `Soybeans`. None where they are stated in another unit than bushels. */
function cropRows(source: Source, crop: string): { column: string; equals: string } | null {
  const column = source.columns.find((candidate) => ['cropname', 'crop'].includes(key(candidate.name)));
  if (column?.kind !== 'text') return null;
  const level = column.levels.find((text) => sameCrop(text, crop));
  if (level === undefined) return null;
  const unit = source.columns.find((candidate) => key(candidate.name) === 'yldunits');
  const code = column.levels.indexOf(level);
  const other = column.codes.some((own, row) => {
    const text = own === code && unit ? cellValue(unit, row) : null;
    return text !== null && !/^bu/i.test(String(text).trim());
  });
  return other ? null : { column: column.name, equals: level };
}
