/**
 * A bounded model of how unlike two places are, by distance h > 0 apart: γ(h) = nugget + psill·f(h/range), and γ(0) = 0.
 * Spherical f(t) = 1.5 t − 0.5 t³ to t = 1, then 1; exponential f(t) = 1 − e^(−t), which has 95 % of its sill at three ranges
 * (Journel & Huijbregts 1978; parameters as gstat states them). γ is in the square of the value's unit.
 */
export interface VariogramModel {
  readonly family: VariogramFamily;
  readonly nugget: number;
  /** What the structure adds to the nugget: sill = nugget + psill. */
  readonly psill: number;
  readonly range_m: number;
}

export type VariogramFamily = 'spherical' | 'exponential';

/** Share of the partial sill reached at `t` ranges. */
export function riseOf(family: VariogramFamily, t: number): number {
  if (family === 'exponential') return 1 - Math.exp(-t);
  return t < 1 ? t * (1.5 - 0.5 * t * t) : 1;
}

/** γ(h), for drawing and for tests. */
export function semivariance(model: VariogramModel, distance_m: number): number {
  if (distance_m === 0) return 0;
  return model.nugget + model.psill * riseOf(model.family, distance_m / model.range_m);
}
