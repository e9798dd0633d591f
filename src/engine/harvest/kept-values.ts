import { selectMedian } from '../math/select-median.ts';

/** Median of the kept values; NaN when none is kept. */
export function keptMedian(value: Float64Array, kept: Uint8Array): number {
  const own = new Float64Array(value.length);
  let count = 0;
  for (let i = 0; i < value.length; i++) if (kept[i]) own[count++] = value[i];
  return selectMedian(own, count);
}

/** Mean and population standard deviation of the kept values; NaN when none is kept. Two passes, so that a large mean does not swallow the spread. */
export function keptSpread(
  value: Float64Array,
  kept: Uint8Array,
): { count: number; mean: number; sd: number } {
  let count = 0;
  let sum = 0;
  for (let i = 0; i < value.length; i++) {
    if (!kept[i]) continue;
    count++;
    sum += value[i];
  }
  const mean = sum / count;
  let squares = 0;
  for (let i = 0; i < value.length; i++) if (kept[i]) squares += (value[i] - mean) * (value[i] - mean);
  return { count, mean, sd: Math.sqrt(squares / count) };
}
