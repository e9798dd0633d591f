import type { CleaningRule } from '../cleaning-rule.ts';

export const noPosition: CleaningRule = {
  id: 'no-position',
  title: 'no position',
  source: 'common practice, no source',
  thresholds: {},
  judge: ({ records, x_m, y_m }) =>
    Uint8Array.from({ length: records }, (_, i) =>
      Number.isFinite(x_m[i]) && Number.isFinite(y_m[i]) ? 0 : 1,
    ),
};
