import type { Estimate } from './estimate.ts';

/** An interval of a stand (1000 plants/ac) as plots bear it out: an end beyond the stands tried is none they show, so the interval is open there, 0 or Infinity. */
export function withinTested(
  { value, low, high }: Estimate,
  tested_plantsPerAc: { readonly min: number; readonly max: number } | null,
): Estimate {
  if (tested_plantsPerAc === null) return { value, low, high };
  const { min, max } = tested_plantsPerAc;
  return { value, low: 1000 * low < min ? 0 : low, high: 1000 * high > max ? Infinity : high };
}
