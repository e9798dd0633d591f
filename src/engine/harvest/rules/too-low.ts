import type { CleaningRule } from '../cleaning-rule.ts';
import { keptMedian } from '../kept-values.ts';

export const tooLow: CleaningRule = {
  id: 'too-low',
  title: 'under a share of the median',
  source: 'common practice, no source',
  thresholds: {
    timesMedian: {
      unit: '',
      usual: 0.1,
      least: 0,
      most: 1,
      why: 'ground this poor is real now and then, but mostly the sensor saw nothing; common practice, no source',
    },
  },
  judge: ({ value }, _, kept, { timesMedian }) => {
    const limit = timesMedian * keptMedian(value, kept);
    return value.reduce((marks, own, i) => {
      if (kept[i] && own < limit) marks[i] = 1;
      return marks;
    }, new Uint8Array(value.length));
  },
};
