/** Weighted mean, spread (population standard deviation) and range of the values that are known. */
export interface Spread {
  readonly known: number;
  /** Σ of the weights of known values. */
  readonly weight: number;
  readonly mean: number;
  readonly sd: number;
  readonly min: number;
  readonly max: number;
}

/** Two passes, so that a large mean does not swallow the spread. NaN values are left out; all figures are NaN when none is known. */
export function spreadOf(values: ArrayLike<number>, weights: ArrayLike<number>): Spread {
  let known = 0;
  let weight = 0;
  let sum = 0;
  let min = Infinity;
  let max = -Infinity;
  for (let i = 0; i < values.length; i++) {
    const value = values[i];
    if (Number.isNaN(value)) continue;
    known++;
    weight += weights[i];
    sum += weights[i] * value;
    if (value < min) min = value;
    if (value > max) max = value;
  }
  if (known === 0) return { known, weight: 0, mean: NaN, sd: NaN, min: NaN, max: NaN };
  const mean = sum / weight;
  let squares = 0;
  for (let i = 0; i < values.length; i++) {
    if (!Number.isNaN(values[i])) squares += weights[i] * (values[i] - mean) ** 2;
  }
  return { known, weight, mean, sd: Math.sqrt(squares / weight), min, max };
}
