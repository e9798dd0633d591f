import { cropsIn } from '../../engine/harvest/recognise/crop-words.ts';
import { bushelOf } from '../../engine/harvest/yield-unit.ts';
import type { Issue, Severity } from '../../engine/issue.ts';
import { newProduct } from '../../engine/lineup/new-product.ts';
import type { Product, Rating, Trait, Treatment } from '../../engine/lineup/product.ts';
import { plainCrop } from '../../engine/math/crop-name.ts';
import { usualSeedsPerUnit } from '../../engine/math/units.ts';
import { figureOf } from '../text/figure-text.ts';
import type { LineupRole } from './lineup-columns.ts';
import type { LineupRow, LineupSheet } from './lineup-sheet.ts';
import { isName, LONGEST_NAME } from './name-rule.ts';
import { traitsOf, treatmentsOf } from './offers-text.ts';
import { priceOf } from './price-text.ts';

/** Longest texts a lineup keeps. */
const LONGEST = { crop: 40, maturity: 20, notes: 2000 } as const;
const MOST_GDD = 10_000;

export interface ProductRow {
  /** Null where the row is set aside, with the reason. */
  readonly product: Product | null;
  readonly reason: 'no-name' | 'no-crop' | 'not-possible' | null;
  /** Whether the seeds in a unit are those common for the crop, since the row does not tell them. */
  readonly seedsAssumed: boolean;
  readonly issues: readonly Issue[];
}

/** A row as a product without id: what is wrong is told with its line; what would make costs or seeds wrong sets the row aside. */
export function productOfRow(
  sheet: LineupSheet,
  row: LineupRow,
  ratings: readonly Rating[],
  cropSaid: string | undefined,
  where: string,
): ProductRow {
  const issues: Issue[] = [];
  const at = `${where} › line ${row.line}`;
  const cell = (role: LineupRole, from: readonly string[] = row.cells) => {
    const column = sheet.role.get(role);
    return column === undefined ? '' : from[column];
  };
  const tell = (severity: Severity, code: string, found: string, expected: string, effect: string) =>
    issues.push({ code, severity, where: at, found, expected, effect, remedy: 'Correct the cell' });
  const refused = (code: string, found: string, expected: string): ProductRow => {
    tell('error', code, found, expected, 'The row is set aside: it gives no product');
    return { product: null, reason: 'not-possible', seedsAssumed: false, issues };
  };
  const brand = cell('brand');
  const own = cell('name');
  const name = brand === '' || own.toLowerCase().startsWith(brand.toLowerCase()) ? own : `${brand} ${own}`;
  if (own === '') return { product: null, reason: 'no-name', seedsAssumed: false, issues };
  if (!isName(name))
    return refused('lineup-name', name.slice(0, 60), `a name on one line, of up to ${LONGEST_NAME} letters`);
  const written = cell('crop') || (cropSaid ?? '');
  const crop = inEnglish(written);
  if (crop === '') return { product: null, reason: 'no-crop', seedsAssumed: false, issues };
  if (crop.length > LONGEST.crop)
    return refused('lineup-crop', crop.slice(0, 60), `a crop in up to ${LONGEST.crop} letters`);
  if (crop !== written)
    tell('note', 'lineup-crop-word', written, 'the name bushels are counted under', `It is taken as ${crop}`);
  const seeds = seedsOf(cell('seeds'), crop);
  if (seeds === null)
    return refused(
      'lineup-seeds-per-unit',
      cell('seeds') === '' ? `no seeds per unit for ${name}` : `${cell('seeds')} seeds per unit for ${name}`,
      'a whole number of seeds, one or more, as 80,000 or 140k',
    );
  if (seeds.usual)
    tell(
      'warning',
      'lineup-seeds-assumed',
      `no seeds per unit for ${name}`,
      'the seeds in a unit',
      `${seeds.count}, common for ${crop}, are taken`,
    );
  const price = priceOf(cell('price'));
  if (typeof price === 'number' && price < 0)
    return refused('lineup-price', `a price of ${cell('price')} for ${name}`, 'zero or more');
  if (price !== null && typeof price === 'object')
    tell(
      'warning',
      'lineup-currency',
      `a price in ${price.currency} for ${name}`,
      'dollars',
      'The price is taken as not known',
    );
  else if (price !== null && !Number.isFinite(price))
    tell(
      'warning',
      'lineup-price',
      `a price of '${cell('price').slice(0, 40)}' for ${name}`,
      'dollars a unit',
      'The price is taken as not known',
    );
  const gdd = figureOf(cell('gdd'), true);
  const soundGdd = gdd !== null && gdd > 0 && gdd <= MOST_GDD;
  if (gdd !== null && !soundGdd)
    tell(
      'warning',
      'lineup-gdd',
      `${cell('gdd').slice(0, 40)} growing degree days for ${name}`,
      `over 0, up to ${MOST_GDD}`,
      'They are taken as not known',
    );
  const text = (role: LineupRole, longest: number) => {
    const said = role === 'maturity' ? cell(role) : cell(role, row.raw);
    const kept = said.trim() === '' ? '' : said;
    if (kept.length <= longest) return kept;
    tell(
      'warning',
      'lineup-text-long',
      `${kept.length} letters of ${role} for ${name}`,
      `up to ${longest}`,
      'They are left out',
    );
    return '';
  };
  const treatments = treatmentsOf(cell('treatments'));
  if (treatments.unpriced.length > 0)
    tell(
      'warning',
      'treatment-no-price',
      `${treatments.unpriced.join(', ')} for ${name}`,
      'name = price (what it protects against)',
      'Treatments without a price, or of no name, are left out',
    );
  const traits = traitsOf(cell('traits'));
  if (traits.unclear.length > 0)
    tell(
      'warning',
      'trait-refuge',
      `${traits.unclear.join(', ')} for ${name}`,
      'name = 5 % blended, or name = 20 % separate',
      'The refuge of these traits is taken as not told',
    );
  const product = newProduct({
    id: '',
    name,
    crop,
    seedsPerUnit: seeds.count,
    maturity: text('maturity', LONGEST.maturity),
    gddToMaturity: soundGdd ? gdd : null,
    pricePerUnit: typeof price === 'number' && Number.isFinite(price) ? price : null,
    treatments: treatments.treatments satisfies readonly Treatment[],
    traits: traits.traits satisfies readonly Trait[],
    ratings,
    stature: text('stature', LONGEST.notes),
    notes: text('notes', LONGEST.notes),
    meterNotes: text('meter notes', LONGEST.notes),
    stewardshipNotes: text('stewardship notes', LONGEST.notes),
  });
  return { product, reason: null, seedsAssumed: seeds.usual, issues };
}

/** A crop in one word of another language, as the one it is here; any other stays as written. */
function inEnglish(written: string): string {
  if (/\s/.test(written) || bushelOf(written) !== null) return written;
  const [crop, other] = cropsIn(written);
  return crop && !other && bushelOf(crop) !== null ? crop : written;
}

function seedsOf(cell: string, crop: string): { count: number; usual: boolean } | null {
  const count = figureOf(cell, true);
  if (count !== null) return Number.isSafeInteger(count) && count > 0 ? { count, usual: false } : null;
  const usual = usualSeedsPerUnit(plainCrop(crop));
  return usual === null ? null : { count: usual, usual: true };
}
