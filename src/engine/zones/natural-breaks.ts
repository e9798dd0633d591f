import { ckmeans } from 'simple-statistics';

export interface Breaks {
  /** Upper bound of each class, rising; the last is the largest value. */
  readonly upper: readonly number[];
  /** Goodness of variance fit: 1 − Σ within-class squares / Σ squares about the mean. */
  readonly fit: number;
}

/**
 * Natural breaks (Fisher 1958; Jenks): the k classes of least within-class squares, found exactly by dynamic programming
 * (Wang & Song 2011). Fewer classes come back when there are fewer distinct values. Values must be finite.
 */
export function naturalBreaks(values: Float64Array, count: number): Breaks {
  const distinct = new Set(values).size;
  const classes = ckmeans(Array.from(values), Math.max(1, Math.min(count, distinct)));
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  let within = 0;
  let total = 0;
  for (const members of classes) {
    const centre = members.reduce((sum, value) => sum + value, 0) / members.length;
    for (const value of members) {
      within += (value - centre) ** 2;
      total += (value - mean) ** 2;
    }
  }
  return {
    upper: classes.map((members) => members[members.length - 1]),
    fit: total === 0 ? 1 : 1 - within / total,
  };
}

/** The class of a value: the first whose upper bound is not under it. */
export function classOf(breaks: Breaks, value: number): number {
  const found = breaks.upper.findIndex((upper) => value <= upper);
  return found < 0 ? breaks.upper.length - 1 : found;
}
