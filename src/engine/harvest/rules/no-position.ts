import type { CleaningRule } from '../cleaning-rule.ts';
import { hasPlace } from '../has-place.ts';

export const noPosition: CleaningRule = {
  id: 'no-position',
  title: 'no position',
  source: 'common practice, no source',
  thresholds: {},
  judge: ({ records, x_m, y_m }) => {
    const marks = new Uint8Array(records);
    for (let i = 0; i < records; i++) if (!hasPlace(x_m[i], y_m[i])) marks[i] = 1;
    return marks;
  },
};
