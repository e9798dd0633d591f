import { sameCrop } from '../math/crop-name.ts';
import { columnKey as key } from './column-key.ts';
import type { NumberColumn, Source } from './source.ts';

export interface SoilColumnGuess {
  readonly column: string;
  readonly meaning: 'yield' | 'index';
  readonly where: { readonly column: string; readonly equals: string } | null;
}

/** Productivity indices of the public soil survey made for one crop or group of crops. */
const INDEX_OF_CROP: Readonly<Record<string, string>> = {
  corn: 'nccpi3corn',
  soybean: 'nccpi3soy',
  cotton: 'nccpi3cot',
  wheat: 'nccpi3sg',
  barley: 'nccpi3sg',
  oat: 'nccpi3sg',
};

/** Productivity ratings and water held, best first, as the public soil survey and common exports name them. */
const INDICES = [
  'nccpi3all',
  'nccpi',
  'nccpi3corn',
  'nccpi3soy',
  'iacornsr',
  'csr2',
  'csr',
  'productivity',
  'pi',
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

/** The column that says what the ground can yield: a yield rating of the crop, else an index of productivity or water. Null when there is none. */
export function guessSoilColumn(source: Source, crop: string): SoilColumnGuess | null {
  const numbers = source.columns.filter(
    (column): column is NumberColumn =>
      column.kind === 'number' && column.values.some((value) => !Number.isNaN(value)),
  );
  const byCrop = cropRows(source, crop);
  const rating = numbers.find((column) => /^nonirryieldr?$/.test(key(column.name)));
  if (rating && byCrop) return { column: rating.name, meaning: 'yield', where: byCrop };
  const singular = crop.trim().toLowerCase().replace(/s$/, '');
  // SOY_BU as well as SOYBEAN_BU.
  const short = singular === 'soybean' ? 'soy' : singular;
  const own = numbers.find((column) => {
    const name = key(column.name);
    return (
      (name.includes(short) && /bu|yield|yld/.test(name)) || /^(yield|yieldrating|cropyield)$/.test(name)
    );
  });
  if (own) return { column: own.name, meaning: 'yield', where: null };
  const ofCrop = Object.hasOwn(INDEX_OF_CROP, singular) ? [INDEX_OF_CROP[singular]] : [];
  for (const index of [...ofCrop, ...INDICES]) {
    const column = numbers.find(
      (candidate) =>
        key(candidate.name) === index || (index.length > 5 && key(candidate.name).startsWith(index)),
    );
    if (column) return { column: column.name, meaning: 'index', where: null };
  }
  return null;
}

/** The column that names the map unit, null when none looks like it. */
export function guessSoilLabel(source: Source): string | null {
  for (const wanted of ['musym', 'mapunit', 'soil', 'symbol', 'muname', 'name']) {
    const column = source.columns.find((candidate) => key(candidate.name) === wanted);
    if (column) return column.name;
  }
  return source.columns.find((column) => column.kind === 'text')?.name ?? null;
}

/** Columns by which a table joins the polygons: the map unit key, else its symbol. Null when they share neither. */
export function guessJoin(polygons: Source, table: Source): { fromKey: string; toKey: string } | null {
  for (const wanted of ['mukey', 'musym']) {
    const own =
      polygons.columns.find((column) => key(column.name) === wanted) ??
      polygons.columns.find((column) => new RegExp(`^${wanted}[xy]?$`).test(key(column.name)));
    const other = table.columns.find((column) => key(column.name) === wanted);
    if (own && other) return { fromKey: own.name, toKey: other.name };
  }
  return null;
}

/** In a table of yields by crop, the rows of the plan's crop: `Corn`, `Soybeans`. */
function cropRows(source: Source, crop: string): { column: string; equals: string } | null {
  const column = source.columns.find((candidate) => ['cropname', 'crop'].includes(key(candidate.name)));
  if (column?.kind !== 'text') return null;
  const level = column.levels.find((text) => sameCrop(text, crop));
  return level === undefined ? null : { column: column.name, equals: level };
}
