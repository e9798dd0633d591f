import { plainCrop } from '../math/crop-name.ts';
import { BUSHELS, KG_PER_LB, M2_PER_ACRE } from '../math/units.ts';

/** Units a yield comes in. `t/ha` is megagrams a hectare, `q/ha` quintals of 100 kg, `ton/ac` US short tons of 2,000 lb. */
export const YIELD_UNITS = ['bu/ac', 'lb/ac', 'kg/ha', 't/ha', 'q/ha', 'g/m2', 'ton/ac', 'unknown'] as const;

export type YieldUnit = (typeof YIELD_UNITS)[number] | '';

const M2_PER_HA = 10_000;
const LB_PER_SHORT_TON = 2000;

/** kg/m² in one of a unit that is a weight over an area. Pound and acre: NIST Handbook 44, appendix C; short ton: the same, 2,000 lb. */
const KG_PER_M2: Readonly<Record<string, number>> = {
  'lb/ac': KG_PER_LB / M2_PER_ACRE,
  'ton/ac': (LB_PER_SHORT_TON * KG_PER_LB) / M2_PER_ACRE,
  'kg/ha': 1 / M2_PER_HA,
  'q/ha': 100 / M2_PER_HA,
  't/ha': 1000 / M2_PER_HA,
  'g/m2': 1 / 1000,
};

/** A yield in bu/ac; null when the unit is not known, or a bushel of the crop is not. */
export function yieldIn_buPerAc(value: number, unit: YieldUnit, crop: string): number | null {
  if (unit === 'bu/ac') return value;
  const bushel = bushelOf(crop);
  const factor = kgPerM2(unit, bushel);
  return bushel === null || factor === null ? null : (value * factor) / (kgPerM2('bu/ac', bushel) as number);
}

/** kg/m² in one of the unit, for a bushel of so many lb (null: not known); null when it cannot be told. */
export function kgPerM2(unit: YieldUnit, lbPerBu: number | null): number | null {
  if (unit === 'bu/ac') return lbPerBu === null ? null : (lbPerBu * KG_PER_LB) / M2_PER_ACRE;
  return Object.hasOwn(KG_PER_M2, unit) ? KG_PER_M2[unit] : null;
}

/** Weight of a bushel of the crop, lb; null for a crop without one here. */
export function bushelOf(crop: string): number | null {
  return bushelAndBase(crop)?.lbPerBu ?? null;
}

/** Weight of a bushel, lb, and the moisture it is sold at, %; null for a crop without one here. */
export function bushelAndBase(crop: string): { lbPerBu: number; baseMoisture_pct: number } | null {
  const key = plainCrop(crop) as keyof typeof BUSHELS;
  return Object.hasOwn(BUSHELS, key) ? BUSHELS[key] : null;
}
