const SAMPLE = 5000;

/** Median (the upper of a middle two) of what is known among some thousand of `n` numbers, evenly chosen: for a usual figure of many. NaN when none is known. */
export function usualOf(n: number, at: (k: number) => number): number {
  const stride = Math.max(1, Math.floor(n / SAMPLE));
  const some = new Float64Array(Math.max(0, Math.ceil(n / stride)));
  let count = 0;
  for (let k = 0; k < n; k += stride) {
    const value = at(k);
    if (!Number.isNaN(value)) some[count++] = value;
  }
  return count === 0 ? NaN : some.subarray(0, count).sort()[count >> 1];
}
