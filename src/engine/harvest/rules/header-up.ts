import type { CleaningRule } from '../cleaning-rule.ts';
import { trustedHeader } from '../trusted-header.ts';

export const headerUp: CleaningRule = {
  id: 'header-up',
  title: 'header up, or nothing cut',
  source: 'Simbahan, Dobermann & Ping 2004, Agronomy Journal 96:1091, step 1',
  thresholds: {},
  judge: (log) => {
    const header = trustedHeader(log);
    const marks = new Uint8Array(log.records);
    for (let i = 0; i < log.records; i++) if (header?.[i] === 0 || log.value[i] <= 0) marks[i] = 1;
    return marks;
  },
};
