/** Median of the known values (mean of the middle two when even); NaN when none is known. Leaves the input alone. */
export function median(values: ArrayLike<number>): number {
  const known = Float64Array.from(values).filter((value) => !Number.isNaN(value));
  if (known.length === 0) return NaN;
  known.sort();
  const middle = known.length >> 1;
  return known.length % 2 === 1 ? known[middle] : (known[middle - 1] + known[middle]) / 2;
}
