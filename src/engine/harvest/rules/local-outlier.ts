import { selectMedian } from '../../math/select-median.ts';
import type { CleaningRule } from '../cleaning-rule.ts';
import { inOrder } from '../kept-bins.ts';
import { squareMedians, surelyNear } from '../square-medians.ts';
import { travelFrame } from '../travel-frame.ts';

/** Fewer neighbours than this say nothing about a record. Our own choice, no source. */
const FEWEST = 12;
/** Normal deviates have a standard deviation of this many median absolute deviations. */
const SD_PER_MAD = 1.4826;

/**
 * Robust z of a record among the kept records of the 3 × 3 squares about its own, itself included: |x − median| / (1.4826 · MAD), the MAD no smaller than a share of
 * the median, so that an even neighbourhood does not make outliers of small differences. One median and one MAD serve all records of a square.
 */
export const localOutlier: CleaningRule = {
  id: 'local-outlier',
  title: 'far from its neighbours',
  source:
    'Simbahan, Dobermann & Ping 2004, Agronomy Journal 96:1091, step 5, in the robust form of Iglewicz & Hoaglin 1993, How to Detect and Handle Outliers',
  thresholds: {
    deviations: {
      unit: 'standard deviations',
      usual: 3.5,
      least: 2,
      most: 10,
      why: '3.5 is the usual figure of the robust z (Iglewicz & Hoaglin 1993)',
    },
    square_m: {
      unit: 'm',
      usual: 12,
      least: 5,
      most: 50,
      why: 'three squares make some 36 m: three or four passes of a common header, so that neighbours of other passes bear witness; our own choice, no source',
    },
    floor: {
      unit: '',
      usual: 0.05,
      least: 0,
      most: 0.5,
      why: 'least MAD, as a share of the median: the noise of a good sensor alone; our own choice, no source',
    },
  },
  judge: (log, passes, kept, { deviations, square_m, floor }, frame = travelFrame(log, passes)) => {
    const bins = frame.squares(kept, square_m);
    const { cols, rows, start, records } = bins;
    const value = inOrder(log.value, records);
    const medians = squareMedians(bins, value);
    const leastShare = deviations * SD_PER_MAD * floor;
    const marks = new Uint8Array(log.records);
    const near = new Float64Array(records.length);
    const work = new Float64Array(records.length);
    for (let square = cols + 1; square < cols * (rows - 1) - 1; square++) {
      const [from, to] = [start[square], start[square + 1]];
      // Most squares hold nothing that even the least MAD would set aside: theirs is not worked out.
      if (from === to || surelyNear(medians, square, cols, leastShare)) continue;
      let count = 0;
      for (let row = square - cols; row <= square + cols; row += cols) {
        for (let k = start[row - 1]; k < start[row + 2]; k++) work[count] = near[count++] = value[k];
      }
      if (count < FEWEST) continue;
      const middle = selectMedian(work, count);
      // From the values as they came: deviations of those parted about the median would fall and rise, on which selecting is slow.
      for (let k = 0; k < count; k++) work[k] = Math.abs(near[k] - middle);
      const reach = Math.max(
        leastShare * Math.abs(middle),
        deviations * SD_PER_MAD * selectMedian(work, count),
      );
      for (let k = from; k < to; k++) if (Math.abs(value[k] - middle) > reach) marks[records[k]] = 1;
    }
    return marks;
  },
};
