import { KG_PER_LB, M_PER_FT } from '../../math/units.ts';
import { FIT, type PhysicsFit } from './physics-check.ts';
import { near } from './ratio.ts';

const FT_PER_M = 1 / M_PER_FT;

/** Ratios by which yields are off when a unit is taken for another. */
const SLIPS: readonly (readonly [number, string])[] = [
  [10, 'a decimal point is one place off, in the moisture or the seconds as a rule'],
  [100, 'a decimal point is two places off'],
  [12, 'feet and inches are confused in a length'],
  [FT_PER_M, 'feet and metres are confused in a length'],
  [FT_PER_M * FT_PER_M, 'feet and metres are confused in both lengths'],
  [FT_PER_M * 12, 'inches and metres are confused in a length'],
  [1 / KG_PER_LB, 'pounds and kilograms are confused'],
  [2, 'the seconds a record or the width cut are twice or half what is written'],
];

/** Why the yield column is not what the other columns make, in words, for the unit combination named; null when no known slip explains it. */
export function slipOf(fits: readonly PhysicsFit[]): { ratio: number; because: string } | null {
  for (const fit of fits) {
    const base = 100 / (100 - fit.grain.baseMoisture_pct);
    const own: readonly (readonly [number, string])[] = [
      [
        base,
        `the moisture is left out or taken for a share, or dry matter is counted for grain at ${fit.grain.baseMoisture_pct} %`,
      ],
      ...SLIPS,
    ];
    for (const [factor, because] of own)
      if (near(fit.ratio, factor, FIT) || near(fit.ratio, 1 / factor, FIT))
        return { ratio: fit.ratio, because };
  }
  return null;
}
