import type { Issue } from '../../engine/issue.ts';
import type { SourceLedger } from '../../engine/layers/source.ts';
import type { Product, RatingScale } from '../../engine/lineup/product.ts';
import type { FileBytes } from '../file-bytes.ts';
import type { ReadOptions } from '../format.ts';
import { newTally, note, type Tally, tallyText } from '../tally.ts';
import { readLineupSheet } from './lineup-sheet.ts';
import { idOf, isId, productKey } from './product-ids.ts';
import { productOfRow } from './product-row.ts';
import { type RatingOptions, readRatings } from './rating-columns.ts';

export interface LineupOptions extends RatingOptions, Pick<ReadOptions, 'encoding' | 'headerLine'> {
  /** Of rows no crop column tells. */
  readonly crop?: string;
}

export interface LineupCsvRead {
  /** Without response, trials, placement: a table of products has none of it. */
  readonly products: readonly Product[];
  readonly scales: readonly RatingScale[];
  /** Names of those whose seeds per unit the table does not tell. */
  readonly seedsAssumed: readonly string[];
  readonly issues: readonly Issue[];
  /** Rows: read = used + set aside. */
  readonly ledger: SourceLedger;
}

type AsideReason = 'no-name' | 'no-crop' | 'not-possible' | 'duplicate-product';

/** A lineup as a table, one product a row; ratings in columns of their own, their scales in a row called scale. Throws a Refusal for what is no such table. */
export function readLineupCsv(file: FileBytes, options: LineupOptions = {}): LineupCsvRead {
  const sheet = readLineupSheet(file, options);
  const ratings = readRatings(sheet, options, file.name);
  const issues: Issue[] = [...sheet.issues, ...ratings.issues];
  const aside = new Map<AsideReason, Tally>();
  const found: { product: Product; line: number; idSaid: string }[] = [];
  const seedsAssumed: string[] = [];
  const lineOf = new Map<string, number>();
  const idColumn = sheet.role.get('id');
  const taken = new Set<string>();
  const put = (reason: AsideReason, line: number) => {
    const tally = aside.get(reason) ?? newTally();
    aside.set(reason, tally);
    note(tally, line);
  };
  for (const row of sheet.rows) {
    const read = productOfRow(sheet, row, ratings.of(row), options.crop, file.name);
    issues.push(...read.issues);
    if (read.product === null) {
      put(read.reason ?? 'not-possible', row.line);
      continue;
    }
    const key = productKey(read.product);
    const idSaid = idColumn === undefined ? '' : row.cells[idColumn];
    const first = lineOf.get(key);
    if (first !== undefined || taken.has(idSaid)) {
      put('duplicate-product', row.line);
      issues.push(twice(`${file.name} › line ${row.line}`, read.product.name, first ?? null, idSaid));
      continue;
    }
    lineOf.set(key, row.line);
    if (isId(idSaid)) taken.add(idSaid);
    if (read.seedsAssumed) seedsAssumed.push(read.product.name);
    found.push({ product: read.product, line: row.line, idSaid });
  }
  const products = found.map(({ product, idSaid }) => {
    const id = isId(idSaid) ? idSaid : idOf(product.name, taken);
    taken.add(id);
    return { ...product, id };
  });
  const setAside: Record<string, number> = { ...sheet.setAside };
  for (const [reason, tally] of aside) {
    setAside[reason] = tally.count;
    if (reason === 'no-name' || reason === 'no-crop') issues.push(without(file.name, reason, tally));
  }
  if (products.length === 0) issues.push(emptyLineup(file.name));
  const ragged = Object.values(sheet.setAside).reduce((sum, n) => sum + n, 0);
  return {
    products,
    scales: ratings.scales,
    seedsAssumed,
    issues,
    ledger: { read: sheet.rows.length + ragged, used: products.length, repaired: 0, setAside },
  };
}

function twice(where: string, name: string, first: number | null, id: string): Issue {
  return {
    code: 'duplicate-product',
    severity: 'error',
    where,
    found: first === null ? `id ${id} a second time` : `${name} a second time (first in line ${first})`,
    expected: 'names used once for a crop, and ids once',
    effect: 'The row is set aside: the first stands',
    remedy: 'Remove one of the two, or give it a name and an id of its own',
  };
}

function without(where: string, reason: 'no-name' | 'no-crop', tally: Tally): Issue {
  const what = reason === 'no-name' ? 'name' : 'crop';
  return {
    code: `lineup-${reason}`,
    severity: 'warning',
    where,
    found: `rows without a ${what}: ${tallyText(tally, tally.count === 1 ? 'line' : 'lines')}`,
    expected: `a ${what} in every row${what === 'crop' ? ', or the crop stated' : ''}`,
    effect: `${tally.count} ${tally.count === 1 ? 'row is' : 'rows are'} set aside`,
    remedy: `Fill in the ${what}`,
  };
}

/** A lineup somebody is about to fill is no fault in a document; nothing can be planted from it. */
export function emptyLineup(where: string): Issue {
  return {
    code: 'lineup-empty',
    severity: 'error',
    where,
    found: '0 products',
    expected: 'at least one',
    effect: 'There is nothing to plant',
    remedy: 'Add a product',
  };
}
