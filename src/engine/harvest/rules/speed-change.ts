import type { CleaningRule } from '../cleaning-rule.ts';
import { groundSpeed } from '../ground-speed.ts';

export const speedChange: CleaningRule = {
  id: 'speed-change',
  title: 'speed changed suddenly',
  source:
    'speed changes as a source of error: Lyle, Bryan & Ostendorf 2014, Precision Agriculture 15:377; limit common practice',
  thresholds: {
    sharePerSecond: {
      unit: '',
      usual: 0.25,
      least: 0.05,
      most: 2,
      why: 'grain on its way through the machine was cut at the speed before; changes by 20 to 25 % a second are set aside in common practice, no source',
    },
  },
  judge: (log, passes, kept, { sharePerSecond }) => {
    const speed = groundSpeed(log, passes);
    if (!speed) return null;
    const { order, pass } = passes;
    const { time_s, interval_s } = passes.track.clock;
    const marks = new Uint8Array(log.records);
    for (let k = 1; k < order.length; k++) {
      const i = order[k];
      const before = order[k - 1];
      if (!kept[i] || pass[i] !== pass[before]) continue;
      // Within less than a second the change of a second is allowed: finer speeds are mostly noise.
      const wait_s = Math.max(1, interval_s, time_s[k] - time_s[k - 1]);
      if (Math.abs(speed[i] - speed[before]) > sharePerSecond * wait_s * speed[before]) marks[i] = 1;
    }
    return marks;
  },
};
