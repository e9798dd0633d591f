import { bearOut } from '../bear-out.ts';
import type { CleaningRule } from '../cleaning-rule.ts';
import { keptSpread } from '../kept-values.ts';
import { travelFrame } from '../travel-frame.ts';

/**
 * By mean and standard deviation, not by median and its absolute deviation: a field of good ground with a poor corner has a wide spread and a narrow middle, and the
 * narrow middle would set the corner aside. Even so a drowned hollow may lie beyond three deviations: what other passes bear out is kept, which the published rule does not ask. What would swell the deviation is gone by then, under the rules before.
 */
export const globalOutlier: CleaningRule = {
  id: 'global-outlier',
  title: 'far from the mean of the field, and other passes do not bear it out',
  source: 'Vega, Córdoba, Castro-Franco & Balzarini 2019, Precision Agriculture 20:1030',
  thresholds: {
    deviations: {
      unit: 'standard deviations',
      usual: 3,
      least: 2,
      most: 6,
      why: 'mean ± 3 standard deviations is the global step of Vega et al. 2019',
    },
  },
  judge: (log, passes, kept, { deviations }, frame = travelFrame(log, passes)) => {
    const { value } = log;
    const { mean, sd } = keptSpread(value, kept);
    const reach = deviations * sd;
    const marks = new Uint8Array(value.length);
    for (let i = 0; i < value.length; i++) if (kept[i] && Math.abs(value[i] - mean) > reach) marks[i] = 1;
    return bearOut(log, passes, frame, kept, marks, mean);
  },
};
