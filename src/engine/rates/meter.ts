import { FT_PER_S_PER_MPH, FT2_PER_ACRE } from '../math/units.ts';

/** A planter's row and meter. */
export interface PlanterMeter {
  readonly row_in: number;
  readonly speed_mph: number;
  readonly mostSeedsPerSecond: number;
}

/** Seeds a second a meter drops in a row at a rate: seeds/ac times the ground a row covers in a second. */
export function seedsPerSecond(
  seedsPerAc: number,
  { row_in, speed_mph }: Omit<PlanterMeter, 'mostSeedsPerSecond'>,
): number {
  return (seedsPerAc * (row_in / 12) * speed_mph * FT_PER_S_PER_MPH) / FT2_PER_ACRE;
}

/** The highest rate a meter keeps up with, seeds/ac. */
export function mostSeedsPerAc(planter: PlanterMeter): number {
  return planter.mostSeedsPerSecond / seedsPerSecond(1, planter);
}
