import { selectKth } from '../../math/select-median.ts';
import type { CleaningRule } from '../cleaning-rule.ts';

/** Wider readings than all but this share are slips of the operator's finger, not the header. */
const WIDEST_SHARE = 0.02;

/** Where swaths are recorded, one of zero or none leaves a yield over no known ground: set aside as well. */
export const narrowSwath: CleaningRule = {
  id: 'narrow-swath',
  title: 'only part of the header cut',
  source:
    'swath width as a source of error: Blackmore & Moore 1999, Precision Agriculture 1:53; limit common practice',
  thresholds: {
    share: {
      unit: '',
      usual: 0.5,
      least: 0,
      most: 1,
      why: 'widths are switched by hand or in coarse steps, and an error of one step weighs the more the narrower; below 50 to 60 % of the header is common practice, no source',
    },
  },
  judge: ({ records, swath_m }, _, kept, { share }) => {
    if (!swath_m) return null;
    const widths = new Float64Array(records);
    let count = 0;
    for (let i = 0; i < records; i++) if (kept[i] && swath_m[i] > 0) widths[count++] = swath_m[i];
    if (count === 0) return null;
    const header_m = selectKth(widths, count, Math.floor((1 - WIDEST_SHARE) * (count - 1)));
    const marks = new Uint8Array(records);
    for (let i = 0; i < records; i++)
      if (kept[i] && !(swath_m[i] > 0 && swath_m[i] >= share * header_m)) marks[i] = 1;
    return marks;
  },
};
