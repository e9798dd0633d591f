import type { Plausibility } from '../../engine/harvest/plausible-yield.ts';
import { plainCrop } from '../../engine/math/crop-name.ts';

/**
 * Medians of stands in trials, plants/m²: hardly ever outside the outer pair, mostly inside the inner. Wider than what is farmed, since stands are varied on
 * purpose. Common practice, no source.
 */
const STANDS_PER_M2: Readonly<Record<string, readonly [number, number, number, number]>> = {
  corn: [1.5, 3, 13, 20],
  soybean: [4, 8, 60, 110],
  wheat: [30, 60, 500, 800],
  barley: [30, 60, 450, 700],
  oats: [30, 60, 450, 700],
};

/** How a median stand sits with a crop; `not told` for a crop without figures here. */
export function howUsualStand(median_perM2: number, crop: string): Plausibility {
  const key = plainCrop(crop);
  if (!Object.hasOwn(STANDS_PER_M2, key)) return 'not told';
  const [least, low, high, most] = STANDS_PER_M2[key];
  if (!(median_perM2 >= least && median_perM2 <= most)) return 'implausible';
  return median_perM2 >= low && median_perM2 <= high ? 'typical' : 'unusual';
}

/** Share of seeds that become plants, where a trial tells its seeding rates alone. Common practice, no source. */
export const USUAL_EMERGENCE: Readonly<Record<string, number>> = { corn: 0.95, soybean: 0.8 };
