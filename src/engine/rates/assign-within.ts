import type { ProductLimits } from './product-limits.ts';

/** What a product earns on the whole of each zone, $, −Infinity where it is not open, and the seeds it takes there. */
export interface ProductRow {
  readonly product: number;
  readonly earns: Float64Array;
  readonly seeds: Float64Array;
}

/** A hair, so that limits met to the acre and to the seed are met. */
const HAIR = 1e-9;

/**
 * Which product of a set each zone is best planted to under the limits, as indices into the set: all ways are tried but those that cannot earn over `floor`, by zones in their order,
 * the product that earns most there first. Null where none does.
 */
export function assignWithin(
  set: readonly ProductRow[],
  area_ac: readonly number[],
  limits: ProductLimits,
  floor: number,
): { readonly choice: number[]; readonly total: number } | null {
  const zones = area_ac.length;
  const order = area_ac.map((_, zone) =>
    set.map((_, k) => k).sort((a, b) => set[b].earns[zone] - set[a].earns[zone] || a - b),
  );
  // What the zones still open could bring at most, and how many acres they are.
  const ahead = new Float64Array(zones + 1);
  const open = new Float64Array(zones + 1);
  for (let zone = zones - 1; zone >= 0; zone--) {
    ahead[zone] = ahead[zone + 1] + set[order[zone][0]].earns[zone];
    open[zone] = open[zone + 1] + area_ac[zone];
  }
  const acres = new Float64Array(set.length);
  const seeds = new Float64Array(set.length);
  const most = limits.mostAcres * (1 + HAIR);
  const onHand = set.map(({ product }) => (limits.seedsOnHand.get(product) ?? Infinity) * (1 + HAIR));
  const must = set.map(({ product }) => limits.mustUse.includes(product));
  const choice = new Array<number>(zones).fill(-1);
  let best: { choice: number[]; total: number } | null = null;
  let least = floor;

  /** Acres that products begun, or that must be, still lack. */
  const lacking = (): number => {
    let sum = 0;
    for (let k = 0; k < set.length; k++)
      if (acres[k] > 0 || must[k]) sum += Math.max(0, limits.leastAcres * (1 - HAIR) - acres[k]);
    return sum;
  };
  const whole = () => set.every((_, k) => !must[k] || acres[k] > 0);

  const plant = (zone: number, total: number): void => {
    if (!(total + ahead[zone] > least) || lacking() > open[zone]) return;
    if (zone === zones) {
      if (!whole()) return;
      least = total;
      best = { choice: [...choice], total };
      return;
    }
    for (const k of order[zone]) {
      const earns = set[k].earns[zone];
      if (earns === -Infinity) return;
      if (acres[k] + area_ac[zone] > most || seeds[k] + set[k].seeds[zone] > onHand[k]) continue;
      const [acresBefore, seedsBefore] = [acres[k], seeds[k]];
      acres[k] += area_ac[zone];
      seeds[k] += set[k].seeds[zone];
      choice[zone] = k;
      plant(zone + 1, total + earns);
      // Set back, not taken off: what is left of a subtraction is not nothing.
      [acres[k], seeds[k]] = [acresBefore, seedsBefore];
    }
  };
  plant(0, 0);
  return best;
}
