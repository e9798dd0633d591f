import type { CleaningRule } from '../cleaning-rule.ts';

export const noValue: CleaningRule = {
  id: 'no-value',
  title: 'no yield recorded, or none left once grain was moved',
  source: 'common practice, no source',
  thresholds: {},
  judge: ({ records, value }) => {
    const marks = new Uint8Array(records);
    for (let i = 0; i < records; i++) if (!Number.isFinite(value[i])) marks[i] = 1;
    return marks;
  },
};
