import { plainCrop } from '../../math/crop-name.ts';
import type { CleaningRule } from '../cleaning-rule.ts';

/** Grain is hardly ever cut drier or wetter, % of wet weight. Common practice, no source. */
const HARVESTED_PCT: Readonly<Record<string, readonly [number, number]>> = {
  corn: [8, 40],
  soybean: [5, 25],
  wheat: [5, 30],
  barley: [5, 30],
  oats: [5, 30],
};

/** A moisture not recorded is no reason. */
export const moistureRange: CleaningRule = {
  id: 'moisture-range',
  title: 'moisture no grain of the crop is cut at',
  source: 'Simbahan, Dobermann & Ping 2004, Agronomy Journal 96:1091, step 3; limits by crop common practice',
  thresholds: {
    margin_pct: {
      unit: 'points of moisture',
      usual: 0,
      least: -5,
      most: 20,
      why: 'widens the range of the crop (corn 8 to 40 %, soybean 5 to 25 %, small grains 5 to 30 %) at both ends; common practice, no source',
    },
  },
  judge: ({ records, crop, moisture_pct }, _, kept, { margin_pct }) => {
    const key = plainCrop(crop ?? '');
    if (!moisture_pct || !Object.hasOwn(HARVESTED_PCT, key)) return null;
    const [driest, wettest] = HARVESTED_PCT[key];
    const marks = new Uint8Array(records);
    for (let i = 0; i < records; i++) {
      const own = moisture_pct[i];
      if (kept[i] && (own < driest - margin_pct || own > wettest + margin_pct)) marks[i] = 1;
    }
    return marks;
  },
};
