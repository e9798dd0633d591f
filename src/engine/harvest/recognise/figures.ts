/** What the values above zero of a sample look like: zeros are headers up and machines at rest. NaN where there are none. */
export interface Figures {
  /** Values above zero. */
  readonly count: number;
  readonly p5: number;
  readonly p50: number;
  readonly p95: number;
  /** Whether all known values, zeros too, are whole numbers. */
  readonly whole: boolean;
  /** Different known values. */
  readonly distinct: number;
}

export function figuresOf(values: ArrayLike<number>): Figures {
  const seen = new Set<number>();
  const above: number[] = [];
  let whole = true;
  for (let k = 0; k < values.length; k++) {
    const value = values[k];
    if (!Number.isFinite(value)) continue;
    seen.add(value);
    if (!Number.isInteger(value)) whole = false;
    if (value > 0) above.push(value);
  }
  const sorted = Float64Array.from(above).sort();
  const at = (share: number) =>
    sorted.length === 0 ? NaN : sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
  return { count: sorted.length, p5: at(0.05), p50: at(0.5), p95: at(0.95), whole, distinct: seen.size };
}
