import { agronomicOptimum, economicOptimum } from '../curve.ts';
import type { FamilyId } from '../family.ts';
import { curveAway } from './figures.ts';

/** The stand of highest yield (r = 0) or of highest return by figures, 1000 plants/ac, where the environment is `away` bu/ac from the reference. */
export function bestStandOf(
  family: FamilyId,
  away: number,
  r: number,
): (figures: ArrayLike<number>) => number {
  return (figures) => {
    const curve = curveAway(family, figures, away);
    return r === 0 ? agronomicOptimum(curve) : economicOptimum(curve, r);
  };
}
