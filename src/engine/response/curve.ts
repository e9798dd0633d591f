import { FAMILIES } from './families.ts';
import type { FamilyId } from './family.ts';

/** A curve of yield (bu/ac) against stand p (1000 plants/ac) on one piece of ground; see `Family` for what the figures are. */
export interface Curve {
  readonly family: FamilyId;
  readonly level: number;
  readonly stand: number;
  /** NaN where the family has none. */
  readonly bend: number;
}

/** Yield at a stand of `p` thousand plants/ac, bu/ac. */
export function yieldAt({ family, level, stand, bend }: Curve, p: number): number {
  const { form, unit } = FAMILIES[family];
  return form === 'less' ? level - bend * unit(p, stand, bend) : level * unit(p, stand, bend);
}

/** Bushels the next thousand plants add at a stand of `p` thousand plants/ac. */
export function slopeAt({ family, level, stand, bend }: Curve, p: number): number {
  const { form, unitSlope } = FAMILIES[family];
  const own = unitSlope(p, stand, bend);
  return form === 'less' ? -bend * own : level * own;
}

/** The stand of highest yield, thousand plants/ac; Infinity where yield climbs for ever; NaN where the curve has none. */
export function agronomicOptimum(curve: Curve): number {
  if (curveDoubt(curve) !== null) return NaN;
  return Math.max(0, FAMILIES[curve.family].agronomicOptimum(curve.level, curve.stand, curve.bend));
}

/**
 * The stand of highest return, thousand plants/ac. `r` is the price of a thousand plants in bushels: seed price per 1000 / (net grain price × emergence). At r = 0 that of
 * highest yield, at r = Infinity none; NaN where the curve has none.
 */
export function economicOptimum(curve: Curve, r: number): number {
  const last = lastToPay(curve, r);
  // Where the first plants bring little, even the best of many may not earn what all of them cost.
  return last > 0 && last < Infinity && yieldAt(curve, last) - r * last < yieldAt(curve, 0) ? 0 : last;
}

/**
 * The stand where the last thousand plants just pay, thousand plants/ac, whether or not those before them do: what is earned falls beyond it, climbs towards it, and may fall once before that.
 * Between any two stands most is therefore earned at the thinner one or as near to this one as they allow. `r` and its ends as for `economicOptimum`.
 */
export function lastToPay(curve: Curve, r: number): number {
  if (r === 0) return agronomicOptimum(curve);
  if (!(r > 0) || curveDoubt(curve) !== null) return NaN;
  if (r === Infinity) return 0;
  return FAMILIES[curve.family].lastToPay(curve.level, curve.stand, curve.bend, r);
}

/** Why a curve has no stand of highest return between none and without end, in words; null where it has. */
export function curveDoubt({ family, level, stand, bend }: Curve): string | null {
  return FAMILIES[family].doubt(level, stand, bend);
}
