import { assignWithin, type ProductRow, type Taker, takersOf } from './assign-within.ts';
import type { ProductLimits } from './product-limits.ts';
import { waysToBlock } from './zone-blocks.ts';

/**
 * The product of each zone, by its number in the lineup, so that the whole field earns most with at most `hoppers` products under the limits. Zones are few and products may be many: every way to part the zones into blocks planted alike
 * is tried, fewer blocks first, and each block given a product of its own, so the answer is exact to a cent over the field. Null where no way keeps the limits.
 */
export function chooseUnderLimits(
  rows: readonly ProductRow[],
  area_ac: readonly number[],
  hoppers: number,
  limits: ProductLimits,
): number[] | null {
  const must = limits.mustUse.map((product) => rows.findIndex((row) => row.product === product));
  if (must.includes(-1)) return null;
  const most = Math.min(hoppers, area_ac.length);
  // Ways have many blocks in common.
  const known = new Map<string, Taker[]>();
  const takers = (block: readonly number[]): Taker[] => {
    const key = block.join();
    const own = known.get(key) ?? takersOf(block, rows, area_ac, limits, most);
    known.set(key, own);
    return own;
  };
  let best: { planted: number[]; total: number } | null = null;
  for (let blocks = Math.max(1, must.length); blocks <= most; blocks++)
    for (const way of waysToBlock(area_ac.length, blocks)) {
      const found = assignWithin(way.map(takers), must, best ? best.total : -Infinity);
      if (found === null) continue;
      const planted = new Array<number>(area_ac.length);
      way.forEach((block, k) => {
        for (const zone of block) planted[zone] = rows[found.rows[k]].product;
      });
      best = { planted, total: found.total };
    }
  return best?.planted ?? null;
}
