import { assignWithin, type ProductRow } from './assign-within.ts';
import type { ProductLimits } from './product-limits.ts';
import { refuseTooMany } from './too-many-sets.ts';

/** Sets kept in order of what they could bring. */
const MOST_SETS = 400_000;
/** A cent over the whole field is the least that counts as better, $. */
const BETTER = 0.01;

/**
 * The product of each zone, by its number in the lineup, so that the whole field earns most with at most `hoppers` products under the limits. Every set of products is bounded by what its best product of each zone would bring; from the highest
 * bound on, each is shared out over the zones, until none that is left could bring a cent more: the answer is exact to a cent over the field. Null where no set keeps the limits; throws a Refusal with more than 400,000 sets.
 */
export function chooseUnderLimits(
  rows: readonly ProductRow[],
  area_ac: readonly number[],
  hoppers: number,
  limits: ProductLimits,
): number[] | null {
  refuseTooMany(rows.length, hoppers, MOST_SETS, 'under limits');
  const must = limits.mustUse.map((product) => rows.findIndex((row) => row.product === product));
  if (must.some((row) => row < 0) || must.length > hoppers) return null;
  const sets = boundedSets(rows, area_ac.length, hoppers).filter(({ set }) =>
    must.every((row) => set.includes(row)),
  );
  // Of equal bounds the smaller and earlier set stays first.
  sets.sort((a, b) => b.bound - a.bound);
  let best: { choice: readonly number[]; total: number } | null = null;
  for (const { set, bound } of sets) {
    const floor = best === null ? -Infinity : best.total + BETTER;
    if (!(bound > floor)) break;
    const found = assignWithin(
      set.map((row) => rows[row]),
      area_ac,
      limits,
      floor,
    );
    if (found) best = { choice: found.choice.map((k) => rows[set[k]].product), total: found.total };
  }
  return best && [...best.choice];
}

interface BoundedSet {
  readonly set: readonly number[];
  /** What it would earn were there no limits, $. */
  readonly bound: number;
}

/** All sets of up to `largest` rows that serve every zone, smaller ones first. */
function boundedSets(rows: readonly ProductRow[], zones: number, largest: number): BoundedSet[] {
  const sets: BoundedSet[] = [];
  const held = Array.from({ length: largest + 1 }, () => new Float64Array(zones).fill(-Infinity));
  const set: number[] = [];
  const grow = (from: number, size: number): void => {
    const before = held[set.length];
    const after = held[set.length + 1];
    for (let k = from; k <= rows.length - (size - set.length); k++) {
      let bound = 0;
      for (let zone = 0; zone < zones; zone++) {
        after[zone] = Math.max(rows[k].earns[zone], before[zone]);
        bound += after[zone];
      }
      if (set.length + 1 < size) {
        set.push(k);
        grow(k + 1, size);
        set.pop();
      } else if (bound > -Infinity) sets.push({ set: [...set, k], bound });
    }
  };
  for (let size = 1; size <= largest; size++) grow(0, size);
  return sets;
}
