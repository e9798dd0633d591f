import { usualOf } from '../../math/usual.ts';
import type { CleaningRule } from '../cleaning-rule.ts';
import type { HarvestLog } from '../harvest-log.ts';
import { hasPlace } from '../has-place.ts';

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
  judge: (log, { order }, kept, { apart_m }) => {
    const { x_m, y_m } = log;
    const marks = sameTime(log, order, kept);
    const { west, south, side_m, cols, rows } = squaresOver(log, kept);
    const perMetre = 1 / side_m;
    // In each square the records so far that are no repeats, the last of them first: 0 for none, else one more than the record.
    const last = new Uint32Array(cols * rows);
    const before = new Uint32Array(log.records);
    for (let k = 0; k < order.length; k++) {
      const i = order[k];
      if (!kept[i] || marks[i] || !hasPlace(x_m[i], y_m[i])) continue;
      if (repeats(i)) {
        marks[i] = 1;
        continue;
      }
      const square = rowOf(y_m[i]) * cols + colOf(x_m[i]);
      before[i] = last[square];
      last[square] = i + 1;
    }
    return marks;

    function repeats(i: number): boolean {
      const toRow = rowOf(y_m[i] + apart_m);
      const toCol = colOf(x_m[i] + apart_m);
      for (let row = rowOf(y_m[i] - apart_m); row <= toRow; row++) {
        for (let col = colOf(x_m[i] - apart_m); col <= toCol; col++) {
          for (let next = last[row * cols + col]; next > 0; next = before[next - 1]) {
            const dx = x_m[next - 1] - x_m[i];
            const dy = y_m[next - 1] - y_m[i];
            if (dx * dx + dy * dy <= apart_m * apart_m) return true;
          }
        }
      }
      return false;
    }

    function colOf(x: number): number {
      return Math.min(cols - 1, Math.max(0, Math.floor((x - west) * perMetre)));
    }

    function rowOf(y: number): number {
      return Math.min(rows - 1, Math.max(0, Math.floor((y - south) * perMetre)));
    }
  },
};

/** Squares over the kept records with a place, no more than some four times as many. */
function squaresOver({ records, x_m, y_m }: HarvestLog, kept: Uint8Array) {
  let [west, south, east, north, count] = [Infinity, Infinity, -Infinity, -Infinity, 0];
  for (let i = 0; i < records; i++) {
    if (!kept[i] || !hasPlace(x_m[i], y_m[i])) continue;
    count++;
    if (x_m[i] < west) west = x_m[i];
    if (x_m[i] > east) east = x_m[i];
    if (y_m[i] < south) south = y_m[i];
    if (y_m[i] > north) north = y_m[i];
  }
  if (count === 0) return { west: 0, south: 0, side_m: LEAST_SQUARE_M, cols: 1, rows: 1 };
  const [wide, high] = [east - west, north - south];
  const side_m = Math.max(LEAST_SQUARE_M, Math.sqrt((wide * high) / count), (wide + high) / count);
  return { west, south, side_m, cols: Math.floor(wide / side_m) + 1, rows: Math.floor(high / side_m) + 1 };
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
