import type { CleaningRule } from '../cleaning-rule.ts';

export const shortPass: CleaningRule = {
  id: 'short-pass',
  title: 'what is left of a short pass',
  source: 'Simbahan, Dobermann & Ping 2004, Agronomy Journal 96:1091, step 6; limit common practice',
  thresholds: {
    records: {
      unit: '',
      usual: 5,
      least: 0,
      most: 100,
      why: 'a pass of fewer kept records never came to a steady flow; common practice, no source',
    },
  },
  judge: (log, { pass, first }, kept, { records }) => {
    const left = new Uint32Array(first.length);
    for (let i = 0; i < log.records; i++) if (kept[i] && pass[i] >= 0) left[pass[i]]++;
    const marks = new Uint8Array(log.records);
    for (let i = 0; i < log.records; i++)
      if (kept[i] && pass[i] >= 0 && left[pass[i]] < records) marks[i] = 1;
    return marks;
  },
};
