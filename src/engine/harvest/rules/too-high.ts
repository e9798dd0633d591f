import { bearOut } from '../bear-out.ts';
import type { CleaningRule } from '../cleaning-rule.ts';
import { keptMedian } from '../kept-values.ts';
import { travelFrame } from '../travel-frame.ts';

export const tooHigh: CleaningRule = {
  id: 'too-high',
  title: 'over a multiple of the median, and other passes do not bear it out',
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
  judge: (log, passes, kept, { timesMedian }, frame = travelFrame(log, passes)) => {
    const { value } = log;
    const middle = keptMedian(value, kept);
    const limit = timesMedian * middle;
    const marks = new Uint8Array(value.length);
    for (let i = 0; i < value.length; i++) if (kept[i] && value[i] > limit) marks[i] = 1;
    return bearOut(log, passes, frame, kept, marks, middle);
  },
};
