import type { ZoneChoice, ZoneOption } from './assignment.ts';
import { chooseUnderLimits } from './choose-under-limits.ts';
import { areProductLimits, NO_PRODUCT_LIMITS, type ProductLimits } from './product-limits.ts';
import { refuseTooMany } from './too-many-sets.ts';

/** Sets weighed at most: about a tenth of a second of work on one core. */
const MOST_SETS = 5_000_000;
/** A cent over the whole field is the least that counts as better, $. */
const BETTER = 0.01;

/**
 * The product of each zone, so that the whole field earns most with at most `hoppers` products: products another one beats everywhere are
 * dropped, and every set of the rest is tried, so the answer is exact to a cent over the field. Under limits every product counts and every set is shared out anew (`chooseUnderLimits`). `options[zone]` holds the open options of a
 * zone. Ties go to the set met first, which is the one with fewer products, earlier in the lineup. Null when no set serves every zone; throws a Refusal
 * where more than five million sets are left.
 */
export function chooseProducts(
  options: readonly (readonly ZoneOption[])[],
  area_ac: readonly number[],
  hoppers: number,
  limits: ProductLimits = NO_PRODUCT_LIMITS,
): ZoneChoice[] | null {
  const earns = earnings(options, area_ac);
  if (areProductLimits(limits)) {
    const rows = [...earns].map(([product, own]) => ({
      product,
      earns: own,
      seeds: seedsOf(product, options, area_ac),
    }));
    const planted = chooseUnderLimits(rows, area_ac, Math.min(hoppers, rows.length), limits);
    return planted && options.map((zone, k) => choiceOf(zone, k, (product) => product === planted[k]));
  }
  const open = undominated(earns);
  // A product without a zone of its own earns nothing, so no set need be larger than the zones are many.
  const largest = Math.min(hoppers, open.length, options.length);
  refuseTooMany(open.length, largest, MOST_SETS, 'that each lead somewhere');
  const best = bestSet(open, earns, options.length, largest);
  return best && options.map((zone, k) => choiceOf(zone, k, (product) => best.includes(product)));
}

/** The option of a zone that earns most of those planted. */
function choiceOf(zone: readonly ZoneOption[], k: number, planted: (product: number) => boolean): ZoneChoice {
  const sorted = [...zone].sort((a, b) => b.marginPerAc - a.marginPerAc || a.product - b.product);
  return { zone: k, chosen: sorted.find(({ product }) => planted(product)) as ZoneOption, options: sorted };
}

/** Seeds of a product in each zone, 0 where it is not open. */
function seedsOf(
  product: number,
  options: readonly (readonly ZoneOption[])[],
  area_ac: readonly number[],
): Float64Array {
  return Float64Array.from(options, (zone, k) => {
    const own = zone.find((option) => option.product === product);
    return own ? own.seedsPerAc * area_ac[k] : 0;
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
