/** Metres in an international foot. Source: NIST Handbook 44, appendix C (exact since 1959). */
export const M_PER_FT = 0.3048;
/** Metres in an inch, exact. Source: as the foot. */
export const M_PER_IN = 0.0254;
/** Metres in a US survey foot: still the unit of old state-plane coordinates. Source: NIST Handbook 44, appendix C. */
export const M_PER_US_SURVEY_FT = 1200 / 3937;
/** Kilograms in a pound (avoirdupois), exact. Source: NIST Handbook 44, appendix C. */
export const KG_PER_LB = 0.45359237;
/** Square feet in an acre. */
export const FT2_PER_ACRE = 43560;
/**
 * Square metres in an acre of international feet, exact: 43,560 × 0.3048². The survey acre, 4 parts in a million
 * larger, was retired with the survey foot at the end of 2022 (85 FR 62698) and is not used.
 */
export const M2_PER_ACRE = 4046.8564224;
/** Feet a second in a mile an hour. */
export const FT_PER_S_PER_MPH = 5280 / 3600;

/** What a bushel is of a crop: pounds at the base moisture it is paid at, in % of wet weight. */
interface Bushel {
  readonly lbPerBu: number;
  readonly baseMoisture_pct: number;
}

/**
 * Test weights and base moistures by which bushels are counted in the United States trade. Weights: 7 CFR 810 and
 * the state weights-and-measures laws; moistures: University of Wisconsin Extension, Harvest Math 101.
 */
export const BUSHELS = {
  corn: { lbPerBu: 56, baseMoisture_pct: 15.5 },
  soybean: { lbPerBu: 60, baseMoisture_pct: 13 },
  wheat: { lbPerBu: 60, baseMoisture_pct: 13.5 },
  oats: { lbPerBu: 32, baseMoisture_pct: 14 },
  barley: { lbPerBu: 48, baseMoisture_pct: 14.5 },
} as const satisfies Record<string, Bushel>;

const SEEDS_PER_UNIT: Readonly<Record<string, number>> = { corn: 80_000, soybean: 140_000 };

/** Seeds in a unit (bag) of a crop, by its plain name, as commonly sold; null for a crop without a usual one. The tag of the lot rules. Common practice, some soybeans come in 130,000 or 150,000. */
export function usualSeedsPerUnit(crop: string): number | null {
  return Object.hasOwn(SEEDS_PER_UNIT, crop) ? SEEDS_PER_UNIT[crop] : null;
}

/** m² as international acres. */
export function acresFromM2(area_m2: number): number {
  return area_m2 / M2_PER_ACRE;
}

/** International acres as m². */
export function m2FromAcres(area_ac: number): number {
  return area_ac * M2_PER_ACRE;
}

/** Feet of one row that make 1/1000 acre, at a row width in inches. */
export function rowLengthOfThousandthAcre_ft(rowWidth_in: number): number {
  return FT2_PER_ACRE / 1000 / (rowWidth_in / 12);
}

/** Inches between seeds in the row, at a row width in inches and a rate in seeds per acre. */
export function seedSpacing_in(rowWidth_in: number, seedsPerAc: number): number {
  return (FT2_PER_ACRE * 144) / (rowWidth_in * seedsPerAc);
}

/** Seeds a second one row's meter must drop, at a rate in seeds per acre and a ground speed in miles an hour. */
export function seedsPerSecondPerRow(seedsPerAc: number, rowWidth_in: number, speed_mph: number): number {
  return (seedsPerAc * (rowWidth_in / 12) * speed_mph * FT_PER_S_PER_MPH) / FT2_PER_ACRE;
}

/**
 * What is left of a weight of grain when it dries from one moisture to another, both in % of wet weight: water
 * shrink only, no handling loss. Grain drier than the base gives more than 1; whether to pay that is not decided here.
 */
export function shrinkFactor(moisture_pct: number, baseMoisture_pct: number): number {
  return (100 - moisture_pct) / (100 - baseMoisture_pct);
}

/**
 * What is left by a flat rate of so many % a point of moisture above a base, as some buyers and the United States crop
 * insurance (1.2 % a point) count; 1 at or below the base.
 */
export function flatShrinkFactor(
  moisture_pct: number,
  baseMoisture_pct: number,
  pctPerPoint: number,
): number {
  return 1 - (Math.max(0, moisture_pct - baseMoisture_pct) * pctPerPoint) / 100;
}

/** Bushels at base moisture in pounds of grain as harvested. */
export function dryBushels(wet_lb: number, moisture_pct: number, bushel: Bushel): number {
  return (wet_lb / bushel.lbPerBu) * shrinkFactor(moisture_pct, bushel.baseMoisture_pct);
}
