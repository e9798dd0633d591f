import { newProduct } from '../../engine/lineup/new-product.ts';
import type { Product, RatingScale } from '../../engine/lineup/product.ts';
import { writeLineupCsv } from './write-lineup-csv.ts';

const NINE: RatingScale = { id: '1 to 9, 9 best', lowest: 1, highest: 9, best: 'highest' };
const FIVE: RatingScale = { id: '1 to 5, 1 best', lowest: 1, highest: 5, best: 'lowest' };

const PRODUCTS: readonly Product[] = [
  newProduct({
    id: 'wren-98',
    name: 'Wren 98 (example)',
    crop: 'corn',
    maturity: '98',
    gddToMaturity: 2420,
    seedsPerUnit: 80_000,
    pricePerUnit: 236,
    treatments: [
      { name: 'Marsh Coat', pricePerUnit: 12.5, protectsAgainst: ['seedling blight', 'wireworm'] },
    ],
    traits: [{ name: 'Reed Guard', refuge: { share: 0.05, kind: 'blended', note: 'as its label says' } }],
    ratings: [
      { of: 'drought', value: 7, scale: NINE.id },
      { of: 'stalk lodging', value: 2, scale: FIVE.id },
    ],
    stature: 'short, upright leaf',
    notes: 'Invented: put your own products here',
  }),
  newProduct({
    id: 'plover-2-4',
    name: 'Plover 2.4 (example)',
    crop: 'soybean',
    maturity: '2.4',
    seedsPerUnit: 140_000,
    pricePerUnit: 58,
    // Not rated for lodging: the cell stays blank, which is no zero.
    ratings: [{ of: 'drought', value: 6, scale: NINE.id }],
  }),
];

/** A lineup to fill in, as text; its products are invented and show what goes where. */
export function lineupTemplate(): string {
  return new TextDecoder().decode(writeLineupCsv(PRODUCTS, [NINE, FIVE]));
}
