import type { CleaningRule } from '../cleaning-rule.ts';
import { unbrokenPasses } from '../unbroken-passes.ts';

export const passEnd: CleaningRule = {
  id: 'pass-end',
  title: 'last seconds of a pass',
  source: 'Simbahan, Dobermann & Ping 2004, Agronomy Journal 96:1091, step 2',
  thresholds: {
    seconds: {
      unit: 's',
      usual: 4,
      least: 0,
      most: 30,
      why: 'the machine slows down and runs empty while the header is still down; 0 to 8 s are common practice',
    },
  },
  judge: (log, passes, kept, { seconds }) => {
    const { order, first, last } = passes;
    const time_s = passes.track.clock.time_s;
    const unbroken = unbrokenPasses(log, passes, time_s);
    const marks = new Uint8Array(log.records);
    for (let p = 0; p < first.length; p++) {
      if (unbroken[p + 1]) continue;
      for (let k = last[p]; k >= first[p] && time_s[last[p]] - time_s[k] < seconds; k--) {
        marks[order[k]] = kept[order[k]];
      }
    }
    return marks;
  },
};
