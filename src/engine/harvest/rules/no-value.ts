import type { CleaningRule } from '../cleaning-rule.ts';

export const noValue: CleaningRule = {
  id: 'no-value',
  title: 'no yield recorded',
  source: 'common practice, no source',
  thresholds: {},
  judge: ({ value }) => Uint8Array.from(value, (own) => (Number.isFinite(own) ? 0 : 1)),
};
