import { plainCrop } from '../math/crop-name.ts';
import { BUSHELS, KG_PER_LB, M2_PER_ACRE } from '../math/units.ts';

export type YieldUnit = 'bu/ac' | 'lb/ac' | 'kg/ha' | 't/ha' | 'unknown' | '';

const LB_PER_AC_PER_KG_PER_HA = M2_PER_ACRE / 10_000 / KG_PER_LB;

/** A yield in bu/ac; null when the unit is not known, or a bushel of the crop is not. */
export function yieldIn_buPerAc(value: number, unit: YieldUnit, crop: string): number | null {
  if (unit === 'bu/ac') return value;
  const bushel = bushelOf(crop);
  if (bushel === null || unit === 'unknown' || unit === '') return null;
  const lbPerAc = unit === 'lb/ac' ? value : value * (unit === 't/ha' ? 1000 : 1) * LB_PER_AC_PER_KG_PER_HA;
  return lbPerAc / bushel;
}

/** Weight of a bushel of the crop, lb; null for a crop without one here. */
export function bushelOf(crop: string): number | null {
  const key = plainCrop(crop) as keyof typeof BUSHELS;
  return Object.hasOwn(BUSHELS, key) ? BUSHELS[key].lbPerBu : null;
}
