import { plainCrop } from '../../engine/math/crop-name.ts';
import { M2_PER_ACRE } from '../../engine/math/units.ts';

/**
 * Yields no plot has, bu/ac: the highest on record with about a fifth above it. Corn 623.84 bu/ac (National Corn Yield Contest, 2023), soybean 218.29 bu/ac (Georgia
 * Soybean Production Contest, 2024), wheat 17.96 t/ha and barley 16.2 t/ha (Guinness World Records, crops of 2022); oats and other crops are our own choice.
 */
const BEYOND_BU_PER_AC: Readonly<Record<string, number>> = {
  corn: 750,
  soybean: 260,
  wheat: 320,
  barley: 360,
  oats: 400,
};
const BEYOND_OTHERS_BU_PER_AC = 1000;

/** Stands no plot has, plants/m²: above the thickest that stands are tried at. Our own choice. */
const BEYOND_PER_M2: Readonly<Record<string, number>> = {
  corn: 30,
  soybean: 300,
  wheat: 1500,
  barley: 1500,
  oats: 1500,
};
const BEYOND_OTHERS_PER_M2 = 2000;

export function mostYield_buPerAc(crop: string): number {
  return of(BEYOND_BU_PER_AC, crop) ?? BEYOND_OTHERS_BU_PER_AC;
}

export function mostStand_plantsPerAc(crop: string): number {
  return (of(BEYOND_PER_M2, crop) ?? BEYOND_OTHERS_PER_M2) * M2_PER_ACRE;
}

function of(table: Readonly<Record<string, number>>, crop: string): number | undefined {
  const key = plainCrop(crop);
  return Object.hasOwn(table, key) ? table[key] : undefined;
}
