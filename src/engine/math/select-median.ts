import { quickselect } from 'simple-statistics';

/**
 * Median of the first `count` of `values`, none of them NaN (mean of the middle two when even); NaN of none. Linear time; puts the values in another
 * order, for arrays that hold nothing else.
 */
export function selectMedian(values: Float64Array, count: number): number {
  const middle = count >> 1;
  const upper = selectKth(values, count, middle);
  if (count % 2 === 1 || count === 0) return upper;
  let lower = values[0];
  for (let i = 1; i < middle; i++) if (values[i] > lower) lower = values[i];
  return (lower + upper) / 2;
}

/** The one of the first `count` that has `k` before it when sorted; NaN of none. Reorders `values` likewise. */
export function selectKth(values: Float64Array, count: number, k: number): number {
  if (count === 0) return NaN;
  // Written for plain arrays, works on typed ones (Floyd & Rivest 1975, CACM 18:173). A right end of 0 would mean the whole array.
  if (count > 1) quickselect(values as unknown as number[], k, 0, count - 1);
  return values[k];
}
