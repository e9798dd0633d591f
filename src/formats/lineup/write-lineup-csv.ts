import type { Product, RatingScale } from '../../engine/lineup/product.ts';
import { writeCsv } from '../csv/write.ts';
import { guarded } from './guarded-text.ts';
import { lineupRole, ratedBy } from './lineup-columns.ts';
import { traitsText, treatmentsText } from './offers-text.ts';
import { scaleText } from './scale-text.ts';

const COLUMNS: readonly (readonly [header: string, cell: (product: Product) => string | number])[] = [
  ['id', ({ id }) => id],
  ['name', ({ name }) => name],
  ['crop', ({ crop }) => crop],
  ['maturity', ({ maturity }) => maturity],
  ['gdd to maturity', ({ gddToMaturity }) => gddToMaturity ?? ''],
  ['seeds per unit', ({ seedsPerUnit }) => seedsPerUnit],
  ['price per unit', ({ pricePerUnit }) => pricePerUnit ?? ''],
  ['treatments', ({ treatments }) => treatmentsText(treatments)],
  ['traits', ({ traits }) => traitsText(traits)],
  ['stature', ({ stature }) => stature],
  ['notes', ({ notes }) => notes],
  ['meter notes', ({ meterNotes }) => meterNotes],
  ['stewardship notes', ({ stewardshipNotes }) => stewardshipNotes],
];

/**
 * Products as a table that `readLineupCsv` reads back the same, but for what a table cannot hold: response, fit, tested stands, placement and trial plots are not
 * written, and ratings come in the order of the columns.
 */
export function writeLineupCsv(products: readonly Product[], scales: readonly RatingScale[]): Uint8Array {
  const rated = ratedColumns(products);
  const head = [...COLUMNS.map(([header]) => header), ...rated.map(({ of }) => headerOf(of, rated))];
  const text = (cell: string | number) => (typeof cell === 'string' ? guarded(cell) : cell);
  const scaleRow = [
    ...COLUMNS.map(([header]) => (header === 'name' ? 'scale' : '')),
    ...rated.map(({ scale }) => {
      const own = scales.find(({ id }) => id === scale);
      return own ? scaleText(own) : '';
    }),
  ];
  const rows = products.map((product) => [
    ...COLUMNS.map(([, cell]) => cell(product)),
    ...rated.map(
      (column) =>
        product.ratings.find(({ of, scale }) => of === column.of && scale === column.scale)?.value ?? '',
    ),
  ]);
  return writeCsv([head, ...(rated.length > 0 ? [scaleRow] : []), ...rows].map((row) => row.map(text)));
}

interface RatedColumn {
  readonly of: string;
  readonly scale: string;
}

function ratedColumns(products: readonly Product[]): RatedColumn[] {
  const columns = new Map<string, RatedColumn>();
  for (const { ratings } of products)
    for (const { of, scale } of ratings) columns.set(`${of}\u0001${scale}`, { of, scale });
  return [...columns.values()];
}

/** Said to be a rating where its name means something else, or does not stand alone. */
function headerOf(of: string, all: readonly RatedColumn[]): string {
  const plain =
    lineupRole(of) === null && ratedBy(of) === null && all.filter((own) => own.of === of).length === 1;
  return plain ? of : `rating: ${of}`;
}
