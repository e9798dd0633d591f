import { plainCrop } from '../../math/crop-name.ts';
import type { CleaningRule } from '../cleaning-rule.ts';

/** What a few square metres can yield, bu/ac: wide of what a field can. Common practice, no source. */
const POSSIBLE_BU_PER_AC: Readonly<Record<string, readonly [number, number]>> = {
  corn: [5, 450],
  soybean: [2, 150],
  wheat: [2, 250],
  barley: [2, 250],
  oats: [2, 300],
};

export const biologicalRange: CleaningRule = {
  id: 'biological-range',
  title: 'yield the crop cannot give',
  source: 'Simbahan, Dobermann & Ping 2004, Agronomy Journal 96:1091, step 4; limits by crop common practice',
  thresholds: {
    stretch: {
      unit: '',
      usual: 1,
      least: 0.5,
      most: 5,
      why: 'the range of the crop (corn 5 to 450 bu/ac, soybean 2 to 150, wheat and barley 2 to 250, oats 2 to 300) is divided below and multiplied above by this; common practice, no source',
    },
  },
  judge: ({ records, crop, value, buPerAcPerValue }, _, kept, { stretch }) => {
    const key = plainCrop(crop ?? '');
    if (buPerAcPerValue === null || !Object.hasOwn(POSSIBLE_BU_PER_AC, key)) return null;
    const [low, high] = POSSIBLE_BU_PER_AC[key];
    const marks = new Uint8Array(records);
    for (let i = 0; i < records; i++) {
      const own = value[i] * buPerAcPerValue;
      if (kept[i] && (own < low / stretch || own > high * stretch)) marks[i] = 1;
    }
    return marks;
  },
};
