const SAMPLE = 5000;

/** Median (the upper of a middle two) of what is known among some thousand of `n` numbers, evenly chosen: for a usual figure of many. NaN when none is known. */
export function usualOf(n: number, at: (k: number) => number): number {
  const stride = Math.max(1, Math.floor(n / SAMPLE));
  const some: number[] = [];
  for (let k = 0; k < n; k += stride) {
    const value = at(k);
    if (!Number.isNaN(value)) some.push(value);
  }
  return some.length === 0 ? NaN : some.sort((a, b) => a - b)[some.length >> 1];
}
