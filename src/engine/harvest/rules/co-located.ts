import { usualOf } from '../../math/usual.ts';
import type { CleaningRule } from '../cleaning-rule.ts';
import type { HarvestLog } from '../harvest-log.ts';
import { type TravelFrame, travelFrame } from '../travel-frame.ts';

/** Squares for finding neighbours, m: no smaller than this, which is more than any distance asked for, nor many more than the records. */
const LEAST_SQUARE_M = 1;

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
  judge: (log, passes, kept, { apart_m }, frame = travelFrame(log, passes)) => {
    const { order } = passes;
    const { along_m, left_m } = frame;
    const marks = sameTime(log, order, kept);
    const { back_m, right_m, perMetre, cols, rows } = squaresOver(frame, kept);
    const reach = apart_m * perMetre;
    // In each square the records so far that are no repeats, the last of them first: 0 for none, else one more than the record.
    const last = new Uint32Array(cols * rows);
    const before = new Uint32Array(log.records);
    for (let k = 0; k < order.length; k++) {
      const i = order[k];
      if (!kept[i] || marks[i]) continue;
      const u = (along_m[i] - back_m) * perMetre;
      const v = (left_m[i] - right_m) * perMetre;
      if (repeats(i, u, v)) {
        marks[i] = 1;
        continue;
      }
      const square = Math.floor(v) * cols + Math.floor(u);
      before[i] = last[square];
      last[square] = i + 1;
    }
    return marks;

    function repeats(i: number, u: number, v: number): boolean {
      const fromCol = Math.max(0, Math.floor(u - reach));
      const toCol = Math.min(cols - 1, Math.floor(u + reach));
      const toRow = Math.min(rows - 1, Math.floor(v + reach));
      for (let row = Math.max(0, Math.floor(v - reach)); row <= toRow; row++) {
        for (let square = row * cols + fromCol; square <= row * cols + toCol; square++) {
          for (let next = last[square]; next > 0; next = before[next - 1]) {
            const du = along_m[next - 1] - along_m[i];
            const dv = left_m[next - 1] - left_m[i];
            if (du * du + dv * dv <= apart_m * apart_m) return true;
          }
        }
      }
      return false;
    }
  },
};

/** Squares over the kept records, row by row along the passes so that one record after another falls in the same; no more than some four times as many. */
function squaresOver(frame: TravelFrame, kept: Uint8Array) {
  const { count, back_m, ahead_m, right_m, left_m } = frame.extent(kept);
  if (count === 0) return { back_m: 0, right_m: 0, perMetre: 1 / LEAST_SQUARE_M, cols: 1, rows: 1 };
  const [long, wide] = [ahead_m - back_m, left_m - right_m];
  const side_m = Math.max(LEAST_SQUARE_M, Math.sqrt((long * wide) / count), (long + wide) / count);
  const perMetre = 1 / side_m;
  const [cols, rows] = [Math.floor(long * perMetre) + 1, Math.floor(wide * perMetre) + 1];
  return { back_m, right_m, perMetre, cols, rows };
}

/** Kept records at the time of the kept record before them and nearer to it than half the usual step; none where no time is recorded. */
function sameTime(
  { records, time_s, x_m, y_m }: HarvestLog,
  order: Uint32Array,
  kept: Uint8Array,
): Uint8Array {
  const marks = new Uint8Array(records);
  if (!time_s) return marks;
  const pairs: number[] = [];
  let before = -1;
  for (let k = 0; k < records; k++) {
    const i = order[k];
    if (!kept[i]) continue;
    if (before >= 0 && time_s[i] === time_s[before]) pairs.push(before, i);
    before = i;
  }
  if (pairs.length === 0) return marks;
  const half =
    usualOf(records - 1, (k) =>
      kept[order[k]] && kept[order[k + 1]] ? stepBetween(order[k], order[k + 1]) : NaN,
    ) / 2;
  for (let k = 0; k < pairs.length; k += 2)
    if (stepBetween(pairs[k], pairs[k + 1]) < half) marks[pairs[k + 1]] = 1;
  return marks;

  function stepBetween(a: number, b: number): number {
    const dx = x_m[a] - x_m[b];
    const dy = y_m[a] - y_m[b];
    return Math.sqrt(dx * dx + dy * dy);
  }
}
