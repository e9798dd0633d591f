import { mostSeedsPerAc } from '../../engine/rates/meter.ts';
import type { Plan } from '../../plan/schema.ts';
import { figure } from '../figures.ts';

/** A hair of tolerance, so that 36,000 counted as 35,999.9999 is 36,000. */
const HAIR = 1e-9;

/** The highest rate there may be, whole seeds/ac, and what sets it. */
export interface TopRate {
  readonly seedsPerAc: number;
  readonly by: 'plan' | 'meter';
  readonly says: string;
}

/** What the plan and the meter leave at most; null where neither sets a limit. */
export function topRate({
  highest_seedsPerAc: highest,
  planter,
}: Pick<Plan['rates'], 'highest_seedsPerAc' | 'planter'>): TopRate | null {
  const meter = planter ? Math.floor(mostSeedsPerAc(planter) * (1 + HAIR)) : Infinity;
  if (meter < (highest ?? Infinity))
    return {
      seedsPerAc: meter,
      by: 'meter',
      says: `no more than ${figure.whole(meter)}, the most the meter drops at that speed`,
    };
  return highest === null
    ? null
    : {
        seedsPerAc: highest,
        by: 'plan',
        says: `no more than ${figure.whole(highest)}, the highest rate of the plan`,
      };
}
