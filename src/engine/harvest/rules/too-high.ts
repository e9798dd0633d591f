import type { CleaningRule } from '../cleaning-rule.ts';
import { keptMedian } from '../kept-values.ts';

export const tooHigh: CleaningRule = {
  id: 'too-high',
  title: 'over a multiple of the median',
  source: 'common practice, no source',
  thresholds: {
    timesMedian: {
      unit: '',
      usual: 3,
      least: 1,
      most: 10,
      why: 'no ground yields three times the middle of its field, but a plugged machine that clears reads so; common practice, no source',
    },
  },
  judge: ({ value }, _, kept, { timesMedian }) => {
    const limit = timesMedian * keptMedian(value, kept);
    return value.reduce((marks, own, i) => {
      if (kept[i] && own > limit) marks[i] = 1;
      return marks;
    }, new Uint8Array(value.length));
  },
};
