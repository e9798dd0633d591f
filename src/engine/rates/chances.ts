/** Share of the worlds an interval holds; half of the rest lies on either side. Common practice for money, no source. */
export const HELD = 0.9;

/** What a difference comes to over all worlds, $/ac. */
export interface Chances {
  readonly mean: number;
  /** Nine worlds in ten lie between. */
  readonly low: number;
  readonly high: number;
  /** Share of the worlds in which it is over what it must bring. */
  readonly ahead: number;
}

/** Of `one` less `other`, world by world; it must bring `least`, $/ac. */
export function chancesOf(one: Float64Array, other: Float64Array, least = 0): Chances {
  const difference = one.map((own, world) => own - other[world]).sort();
  const count = difference.length;
  let sum = 0;
  let ahead = 0;
  for (const own of difference) {
    sum += own;
    if (own > least) ahead++;
  }
  return {
    mean: sum / count,
    low: quantile(difference, (1 - HELD) / 2),
    high: quantile(difference, (1 + HELD) / 2),
    ahead: ahead / count,
  };
}

/** Between the two nearest, as R's type 7 (Hyndman & Fan 1996, The American Statistician 50:361). `sorted` holds at least one. */
function quantile(sorted: Float64Array, share: number): number {
  const at = share * (sorted.length - 1);
  const below = Math.floor(at);
  const next = sorted[Math.min(below + 1, sorted.length - 1)];
  return sorted[below] + (at - below) * (next - sorted[below]);
}
