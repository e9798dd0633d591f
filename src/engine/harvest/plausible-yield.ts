import { plainCrop } from '../math/crop-name.ts';
import { type YieldUnit, yieldIn_buPerAc } from './yield-unit.ts';

/** Medians of dry yield over a field, bu/ac: hardly ever outside the outer pair, mostly inside the inner. Common practice, no source. */
const RANGES_BU_PER_AC: Readonly<Record<string, readonly [number, number, number, number]>> = {
  corn: [40, 110, 280, 320],
  soybean: [12, 25, 75, 110],
  wheat: [15, 30, 110, 160],
  oats: [20, 40, 130, 180],
  barley: [15, 40, 120, 180],
};

export type Plausibility = 'typical' | 'unusual' | 'implausible' | 'not told';

/** How a median yield sits with a crop; `not told` for a crop or unit without figures here. */
export function howPlausible(median: number, unit: YieldUnit, crop: string): Plausibility {
  const key = plainCrop(crop);
  const bushels = yieldIn_buPerAc(median, unit, crop);
  if (bushels === null || !Object.hasOwn(RANGES_BU_PER_AC, key)) return 'not told';
  const [least, low, high, most] = RANGES_BU_PER_AC[key];
  if (!(bushels >= least && bushels <= most)) return 'implausible';
  return bushels >= low && bushels <= high ? 'typical' : 'unusual';
}
