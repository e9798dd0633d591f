import { Refusal } from '../issue.ts';
import type { ZoneChoice, ZoneOption } from './assignment.ts';

/** Sets weighed at most: about a tenth of a second of work on one core. */
const MOST_SETS = 5_000_000;
/** A cent over the whole field is the least that counts as better, $. */
const BETTER = 0.01;

/**
 * The product of each zone, so that the whole field earns most with at most `hoppers` products: products another one beats everywhere are
 * dropped, and every set of the rest is tried, so the answer is exact to a cent over the field. `options[zone]` holds the open options of a
 * zone. Ties go to the set met first, which is the one with fewer products, earlier in the lineup. Null when no set serves every zone; throws a Refusal
 * where more than five million sets are left.
 */
export function chooseProducts(
  options: readonly (readonly ZoneOption[])[],
  area_ac: readonly number[],
  hoppers: number,
): ZoneChoice[] | null {
  const earns = earnings(options, area_ac);
  const open = undominated(earns);
  // A product without a zone of its own earns nothing, so no set need be larger than the zones are many.
  const largest = Math.min(hoppers, open.length, options.length);
  const sets = setsUpTo(open.length, largest);
  if (sets > MOST_SETS) {
    throw new Refusal({
      code: 'lineup-too-many-sets',
      where: 'rates.hoppers',
      found: `${open.length} products that each lead somewhere, ${largest} to be carried: ${sets.toLocaleString('en-US')} sets`,
      expected: `at most ${MOST_SETS.toLocaleString('en-US')} sets to weigh`,
      effect: 'No products are chosen, so no plan is made',
      remedy: 'Leave products out of the lineup, or allow fewer hoppers',
    });
  }
  const best = bestSet(open, earns, options.length, largest);
  if (best === null) return null;
  return options.map((zone, k) => {
    const sorted = [...zone].sort((a, b) => b.marginPerAc - a.marginPerAc || a.product - b.product);
    const chosen = sorted.find((option) => best.includes(option.product)) as ZoneOption;
    return { zone: k, chosen, options: sorted };
  });
}

/** By product, in the lineup's order: what it earns on all of each zone, $; −Infinity where it is not open. */
type Earnings = ReadonlyMap<number, Float64Array>;

function earnings(options: readonly (readonly ZoneOption[])[], area_ac: readonly number[]): Earnings {
  const products = [...new Set(options.flat().map((option) => option.product))].sort((a, b) => a - b);
  const earns = new Map(products.map((id) => [id, new Float64Array(options.length).fill(-Infinity)]));
  options.forEach((zone, k) => {
    for (const { product, marginPerAc } of zone) {
      const own = earns.get(product);
      if (own) own[k] = marginPerAc * area_ac[k];
    }
  });
  return earns;
}

/**
 * Products no other earns as much as in every zone. Of two, the later one pushes the earlier out only where it leads by more than what counts as better:
 * equal products, or nearly so, keep the lineup's order.
 */
function undominated(earns: Earnings): number[] {
  const pushesOut = (own: Float64Array, other: Float64Array, later: boolean) =>
    own.every((value, k) => value >= other[k]) &&
    (!later || own.some((value, k) => value > other[k] + BETTER));
  return [...earns].flatMap(([id, margins]) =>
    [...earns].some(([rival, own]) => rival !== id && pushesOut(own, margins, rival > id)) ? [] : [id],
  );
}

/** Sets of 1 to `largest` of `n` things. */
function setsUpTo(n: number, largest: number): number {
  let sets = 0;
  let ofSize = 1;
  for (let size = 1; size <= largest; size++) {
    ofSize = (ofSize * (n - size + 1)) / size;
    sets += ofSize;
  }
  return sets;
}

function bestSet(open: readonly number[], earns: Earnings, zones: number, largest: number): number[] | null {
  const rows = open.map((id) => earns.get(id) as Float64Array);
  // What the first products of a set earn in each zone, by how many they are: a set costs one pass over the zones.
  const held = Array.from({ length: largest + 1 }, () => new Float64Array(zones).fill(-Infinity));
  const set: number[] = [];
  let best: number[] | null = null;
  let bestTotal = -Infinity;
  const grow = (from: number, size: number): void => {
    const before = held[set.length];
    const after = held[set.length + 1];
    const last = set.length + 1 === size;
    for (let k = from; k <= rows.length - (size - set.length); k++) {
      const row = rows[k];
      let total = 0;
      for (let zone = 0; zone < zones; zone++) {
        const most = Math.max(row[zone], before[zone]);
        after[zone] = most;
        total += most;
      }
      if (!last) {
        set.push(open[k]);
        grow(k + 1, size);
        set.pop();
      } else if (total > bestTotal + BETTER) {
        bestTotal = total;
        best = [...set, open[k]];
      }
    }
  };
  for (let size = 1; size <= largest; size++) grow(0, size);
  return best;
}
