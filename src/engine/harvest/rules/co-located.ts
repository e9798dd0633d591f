import { selectMedian } from '../../math/select-median.ts';
import type { CleaningRule } from '../cleaning-rule.ts';
import type { HarvestLog } from '../harvest-log.ts';
import { binKept } from '../kept-bins.ts';

/** Squares for finding neighbours, m: larger than any distance asked for, small enough to hold few records. */
const SQUARE_M = 1;

/**
 * Of records of one place the first cut is kept; so it is of records of one time, where they lie nearer than half the usual step: a clock coarser than the
 * records gives one time to several that are each a full step on, and those are no repeats.
 */
export const coLocated: CleaningRule = {
  id: 'co-located',
  title: 'recorded twice',
  source: 'Simbahan, Dobermann & Ping 2004, Agronomy Journal 96:1091, step 6; limit common practice',
  thresholds: {
    apart_m: {
      unit: 'm',
      usual: 0.05,
      least: 0.01,
      most: 0.9,
      why: 'a machine that cuts does not stand still: records this near are one, written twice; common practice, no source',
    },
  },
  judge: (log, passes, kept, { apart_m }) => {
    const { x_m, y_m } = log;
    const marks = sameTime(log, passes.order, kept);
    const place = new Uint32Array(log.records);
    for (let k = 0; k < place.length; k++) place[passes.order[k]] = k;
    const { cols, rows, start, records } = binKept(log, passes, kept, SQUARE_M);
    const compare = (a: number, b: number) => {
      if (marks[a] || marks[b]) return;
      const dx = x_m[a] - x_m[b];
      const dy = y_m[a] - y_m[b];
      if (dx * dx + dy * dy <= apart_m * apart_m) marks[place[a] > place[b] ? a : b] = 1;
    };
    for (let square = cols + 1; square < cols * (rows - 1) - 1; square++) {
      for (let k = start[square]; k < start[square + 1]; k++) {
        // What is set aside vouches for nothing, and thousands of records of one place would be compared by millions of pairs.
        if (marks[records[k]]) continue;
        // Each pair once: later in its own square, in the square ahead, in the three of the next row.
        for (let other = k + 1; other < start[square + 2]; other++) compare(records[k], records[other]);
        const row = square + cols;
        for (let other = start[row - 1]; other < start[row + 2]; other++) compare(records[k], records[other]);
      }
    }
    return marks;
  },
};

/** Kept records at the time of the kept record before them and nearer to it than half the usual step; none where no time is recorded. */
function sameTime(
  { records, time_s, x_m, y_m }: HarvestLog,
  order: Uint32Array,
  kept: Uint8Array,
): Uint8Array {
  const marks = new Uint8Array(records);
  if (!time_s) return marks;
  const steps = new Float64Array(records);
  let count = 0;
  const pairs: number[] = [];
  let before = -1;
  for (let k = 0; k < records; k++) {
    const i = order[k];
    if (!kept[i]) continue;
    if (before >= 0) {
      steps[count++] = stepBetween(before, i);
      if (time_s[i] === time_s[before]) pairs.push(before, i);
    }
    before = i;
  }
  const half = selectMedian(steps, count) / 2;
  for (let k = 0; k < pairs.length; k += 2)
    if (stepBetween(pairs[k], pairs[k + 1]) < half) marks[pairs[k + 1]] = 1;
  return marks;

  function stepBetween(a: number, b: number): number {
    const dx = x_m[a] - x_m[b];
    const dy = y_m[a] - y_m[b];
    return Math.sqrt(dx * dx + dy * dy);
  }
}
