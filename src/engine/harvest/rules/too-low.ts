import { bearOut } from '../bear-out.ts';
import type { CleaningRule } from '../cleaning-rule.ts';
import { keptMedian } from '../kept-values.ts';
import { travelFrame } from '../travel-frame.ts';

export const tooLow: CleaningRule = {
  id: 'too-low',
  title: 'under a share of the median, and other passes do not bear it out',
  source: 'common practice, no source',
  thresholds: {
    timesMedian: {
      unit: '',
      usual: 0.1,
      least: 0,
      most: 1,
      why: 'the sensor saw nearly nothing; common practice, no source',
    },
  },
  judge: (log, passes, kept, { timesMedian }, frame = travelFrame(log, passes)) => {
    const { value } = log;
    const middle = keptMedian(value, kept);
    const limit = timesMedian * middle;
    const marks = new Uint8Array(value.length);
    for (let i = 0; i < value.length; i++) if (kept[i] && value[i] < limit) marks[i] = 1;
    return bearOut(log, passes, frame, kept, marks, middle);
  },
};
