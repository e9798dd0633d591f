import type { ProductLimits } from './product-limits.ts';

/** What a product earns on the whole of each zone, $, −Infinity where it is not open, and the seeds it takes there. */
export interface ProductRow {
  readonly product: number;
  readonly earns: Float64Array;
  readonly seeds: Float64Array;
}

/** A product that may be planted to a block, as an index into the rows, and what it earns there, $. */
export interface Taker {
  readonly row: number;
  readonly earns: number;
}

/** A cent over the whole field is the least that counts as better, $. */
const BETTER = 0.01;
/** A hair, so that limits met to the acre and to the seed are met. */
const HAIR = 1e-9;

/**
 * Who may be planted to all of a block of zones under the limits, in the order of the rows: the products that must be used, and of the others the `most` that earn most there, which are
 * enough where no more blocks than that each want another. None where its acres are too few or too many.
 */
export function takersOf(
  block: readonly number[],
  rows: readonly ProductRow[],
  area_ac: readonly number[],
  { leastAcres, mostAcres, mustUse, seedsOnHand }: ProductLimits,
  most: number,
): Taker[] {
  const over = (own: ArrayLike<number>) => block.reduce((sum, zone) => sum + own[zone], 0);
  const acres = over(area_ac);
  if (acres < leastAcres * (1 - HAIR) || acres > mostAcres * (1 + HAIR)) return [];
  const able = rows.flatMap(({ product, earns, seeds }, row): Taker[] => {
    const own = over(earns);
    const enough = over(seeds) <= (seedsOnHand.get(product) ?? Infinity) * (1 + HAIR);
    return own > -Infinity && enough ? [{ row, earns: own }] : [];
  });
  const must = ({ row }: Taker) => mustUse.includes(rows[row].product);
  const others = able.filter((own) => !must(own)).sort((a, b) => b.earns - a.earns || a.row - b.row);
  return [...able.filter(must), ...others.slice(0, most)].sort((a, b) => a.row - b.row);
}

/**
 * Another product for each block, as indices into the rows, so that all together earn most, to a cent, and the rows of `must` are among them: all ways are tried but those that cannot earn a cent over `least`, and of two within a cent the first is kept. Null where none does.
 */
export function assignWithin(
  takers: readonly (readonly Taker[])[],
  must: readonly number[],
  least: number,
): { readonly rows: readonly number[]; readonly total: number } | null {
  // What the blocks still open could bring at most.
  const ahead = new Float64Array(takers.length + 1);
  for (let block = takers.length - 1; block >= 0; block--)
    ahead[block] =
      ahead[block + 1] + takers[block].reduce((top, { earns }) => Math.max(top, earns), -Infinity);
  const taken: number[] = [];
  let best: { rows: readonly number[]; total: number } | null = null;
  const assign = (total: number): void => {
    const block = taken.length;
    if (!(total + ahead[block] > (best ? best.total : least) + BETTER)) return;
    if (must.filter((row) => !taken.includes(row)).length > takers.length - block) return;
    if (block === takers.length) {
      best = { rows: [...taken], total };
      return;
    }
    for (const { row, earns } of takers[block]) {
      if (taken.includes(row)) continue;
      taken.push(row);
      assign(total + earns);
      taken.pop();
    }
  };
  assign(0);
  return best;
}
