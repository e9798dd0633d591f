import type { CleaningRule } from '../cleaning-rule.ts';

export const outsideField: CleaningRule = {
  id: 'outside-field',
  title: 'outside the field',
  source: 'common practice, no source',
  thresholds: {},
  judge: ({ inside }) => inside.map((own) => 1 - own),
};
