import { FT_PER_S_PER_MPH, M_PER_FT } from '../../math/units.ts';
import type { CleaningRule } from '../cleaning-rule.ts';
import { groundSpeed } from '../ground-speed.ts';

const M_PER_S_PER_MPH = FT_PER_S_PER_MPH * M_PER_FT;

/** A speed not known is no reason. */
export const speedRange: CleaningRule = {
  id: 'speed-range',
  title: 'not at a harvesting speed',
  source:
    'speed as a source of error: Lyle, Bryan & Ostendorf 2014, Precision Agriculture 15:377; limits common practice',
  thresholds: {
    least: {
      unit: 'mph',
      usual: 1.5,
      least: 0,
      most: 4,
      why: 'yield is flow over speed: at a crawl small errors of either are large ones of yield; common practice, no source',
    },
    most: {
      unit: 'mph',
      usual: 8,
      least: 4,
      most: 15,
      why: 'grain is hardly cut faster; common practice, no source',
    },
  },
  judge: (log, passes, kept, { least, most }) => {
    const speed = groundSpeed(log, passes);
    if (!speed) return null;
    const marks = new Uint8Array(log.records);
    for (let i = 0; i < log.records; i++) {
      if (kept[i] && (speed[i] < least * M_PER_S_PER_MPH || speed[i] > most * M_PER_S_PER_MPH)) marks[i] = 1;
    }
    return marks;
  },
};
