import type { RatedProduct } from '../lineup/product.ts';
import { mostSeedsPerAc, type PlanterMeter } from './meter.ts';

/** Limits on rates, seeds/ac. */
export interface RateLimits {
  readonly step_seedsPerAc: number;
  readonly lowest_seedsPerAc: number;
  readonly highest_seedsPerAc: number | null;
  /** Null or left out sets no limit. */
  readonly planter?: PlanterMeter | null;
}

/** Rates open to a product: whole steps from `from` to `to`, seeds/ac, and which limit set each end. */
export interface RateRange {
  readonly from: number;
  readonly to: number;
  readonly fromLimit: 'tested' | 'lowest';
  readonly toLimit: 'tested' | 'highest' | 'meter';
}

/** The rates a product may be planted at; null when its tested stands and the limits leave no whole step. */
export function rateRange(product: RatedProduct, emergence: number, limits: RateLimits): RateRange | null {
  const step = limits.step_seedsPerAc;
  const testedFrom = product.tested_plantsPerAc.min / emergence;
  const testedTo = product.tested_plantsPerAc.max / emergence;
  const highest = limits.highest_seedsPerAc ?? Infinity;
  const meter = limits.planter ? mostSeedsPerAc(limits.planter) : Infinity;
  // A hair of tolerance, so that 32,000/0.8 is 40,000 and not a step under it.
  const from = Math.ceil(Math.max(testedFrom, limits.lowest_seedsPerAc) / step - 1e-9) * step;
  const to = Math.floor(Math.min(testedTo, highest, meter) / step + 1e-9) * step;
  if (from > to) return null;
  return {
    from,
    to,
    fromLimit: limits.lowest_seedsPerAc > testedFrom ? 'lowest' : 'tested',
    toLimit: Math.min(highest, meter) >= testedTo ? 'tested' : meter < highest ? 'meter' : 'highest',
  };
}
