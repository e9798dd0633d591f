import type { CleaningRule } from '../cleaning-rule.ts';
import { binKept } from '../kept-bins.ts';

/** Squares for finding neighbours, m: larger than any distance asked for, small enough to hold few records. */
const SQUARE_M = 1;
/** A clock that repeats itself more often than this is too coarse to tell records apart. Our own choice, no source. */
const COARSE_SHARE = 0.1;

/** Of records of one place, or of one time on a clock that tells records apart, the first cut is kept. */
export const coLocated: CleaningRule = {
  id: 'co-located',
  title: 'recorded twice',
  source: 'Simbahan, Dobermann & Ping 2004, Agronomy Journal 96:1091, step 6; limit common practice',
  thresholds: {
    apart_m: {
      unit: 'm',
      usual: 0.05,
      least: 0,
      most: 0.9,
      why: 'a machine that cuts does not stand still: records this near are one, written twice; common practice, no source',
    },
  },
  judge: (log, passes, kept, { apart_m }) => {
    const { x_m, y_m } = log;
    const marks = sameTime(log.time_s, passes.order, kept);
    const place = new Uint32Array(log.records);
    for (let k = 0; k < place.length; k++) place[passes.order[k]] = k;
    const { cols, rows, start, records } = binKept(log, passes, kept, SQUARE_M);
    const compare = (a: number, b: number) => {
      const dx = x_m[a] - x_m[b];
      const dy = y_m[a] - y_m[b];
      if (dx * dx + dy * dy <= apart_m * apart_m) marks[place[a] > place[b] ? a : b] = 1;
    };
    for (let square = cols + 1; square < cols * (rows - 1) - 1; square++) {
      for (let k = start[square]; k < start[square + 1]; k++) {
        // Each pair once: later in its own square, in the square ahead, in the three of the next row.
        for (let other = k + 1; other < start[square + 2]; other++) compare(records[k], records[other]);
        const row = square + cols;
        for (let other = start[row - 1]; other < start[row + 2]; other++) compare(records[k], records[other]);
      }
    }
    return marks;
  },
};

/** Kept records at the time of the kept record before them; none where the clock is too coarse or missing. */
function sameTime(time_s: Float64Array | null, order: Uint32Array, kept: Uint8Array): Uint8Array {
  const marks = new Uint8Array(order.length);
  if (!time_s) return marks;
  let before = NaN;
  let count = 0;
  let same = 0;
  for (let k = 0; k < order.length; k++) {
    const i = order[k];
    if (!kept[i]) continue;
    count++;
    if (time_s[i] === before) {
      marks[i] = 1;
      same++;
    }
    before = time_s[i];
  }
  return same > COARSE_SHARE * count ? marks.fill(0) : marks;
}
