import type { CleaningRule } from '../cleaning-rule.ts';
import type { HarvestLog, Passes } from '../harvest-log.ts';
import { keptExtent } from '../kept-extent.ts';
import { travelAxes } from '../travel-axes.ts';
import { trustedHeader } from '../trusted-header.ts';

/** Side of a raster square. A strip 9 m wide and 2 m long has 72 of these; its area is known by them to some 10 %, that of what overlaps likewise. */
const RASTER_M = 0.5;
/** A larger field has larger squares, from 200 ha on, so that the raster stays within 32 MB. */
const MOST_SQUARES = 8e6;
/** Strips reach this far beyond the positions: half the widest header, or a way. */
const BORDER_M = 15;
/** No header is wider; a width that is, in another unit say, would cover the field. */
const WIDEST_M = 30;
/** A record's way is no longer than this: beyond, records between were not written. */
const LONGEST_M = 10;

/**
 * Ground cut before. The strip each record cut, its swath wide and its way long, back along its course from its position, is laid on a raster in the order of cutting; what
 * earlier passes cut counts, what its own pass cut does not, whose strips overlap by the error of the receiver. Strips of records set aside, but not those with
 * the header up, have cut their ground too.
 */
export const overlap: CleaningRule = {
  id: 'overlap',
  title: 'ground already cut',
  source: 'Blackmore & Moore 1999, Precision Agriculture 1:53; by raster, our own; limit common practice',
  thresholds: {
    share: {
      unit: '',
      usual: 0.3,
      least: 0.1,
      most: 1,
      why: 'share of a strip cut by earlier passes: the monitor divides by the full swath, so the yield is short by this share; a receiver without corrections sees 10 to 20 % of overlap where there is none; common practice, no source',
    },
  },
  judge: (log, passes, kept, { share }) => {
    const { swath_m, value } = log;
    if (!swath_m) return null;
    const { order, pass } = passes;
    const header = trustedHeader(log);
    const strips = stripsOn(log, passes, kept);
    const marks = new Uint8Array(log.records);
    for (let k = 1; k < order.length; k++) {
      const i = order[k];
      const before = order[k - 1];
      if (pass[i] < 0 || pass[before] !== pass[i] || header?.[i] === 0) continue;
      if (!(value[i] > 0 && swath_m[i] > 0 && swath_m[i] <= WIDEST_M)) continue;
      const cutBefore = strips.cut(before, i, log.distance_m?.[i] ?? NaN, swath_m[i], pass[i]);
      if (kept[i] && cutBefore > share) marks[i] = 1;
    }
    return marks;
  },
};

/** A raster with rows across the passes, so that a strip lies in few of its squares; each holds one more than the pass that cut it first, 0 while it stands. */
function stripsOn(log: HarvestLog, passes: Passes, kept: Uint8Array) {
  const axes = travelAxes(log, passes);
  const { cos, sin } = axes;
  const { x_m, y_m } = log;
  const { minU: back, maxU: ahead, minV: right, maxV: left } = keptExtent(log, axes, kept);
  // Here u counts to the right and v ahead.
  const [minU, maxU, minV, maxV] = [-left - BORDER_M, BORDER_M - right, back - BORDER_M, ahead + BORDER_M];
  const area_m2 = maxU > minU ? (maxU - minU) * (maxV - minV) : 0;
  const side = Math.max(RASTER_M, Math.sqrt(area_m2 / MOST_SQUARES));
  const cols = area_m2 > 0 ? Math.floor((maxU - minU) / side) + 1 : 0;
  const rows = area_m2 > 0 ? Math.floor((maxV - minV) / side) + 1 : 0;
  const few = passes.first.length < 2 ** 16 - 1;
  const first = few ? new Uint16Array(cols * rows) : new Uint32Array(cols * rows);

  /** Cuts the strip from `before` to `i`; gives the share of it that other passes had cut. */
  const cut = (before: number, i: number, distance_m: number, width_m: number, pass: number): number => {
    const u = x_m[i] * sin - y_m[i] * cos;
    const v = x_m[i] * cos + y_m[i] * sin;
    const du = u - (x_m[before] * sin - y_m[before] * cos);
    const dv = v - (x_m[before] * cos + y_m[before] * sin);
    const step = Math.sqrt(du * du + dv * dv);
    if (!(step > 0)) return 0;
    const length = Math.min(LONGEST_M, distance_m > 0 ? distance_m : step) / side;
    const half = width_m / 2 / side;
    const a = du / step;
    const b = dv / step;
    const u1 = (u - minU) / side;
    const v1 = (v - minV) / side;
    const u0 = u1 - a * length;
    const v0 = v1 - b * length;
    const reachU = Math.abs(b) * half;
    const reachV = Math.abs(a) * half;
    const fromRow = Math.max(0, Math.ceil(Math.min(v0, v1) - reachV - 0.5));
    const toRow = Math.min(rows - 1, Math.floor(Math.max(v0, v1) + reachV - 0.5));
    const fromCol = Math.max(0, Math.ceil(Math.min(u0, u1) - reachU - 0.5));
    const toCol = Math.min(cols - 1, Math.floor(Math.max(u0, u1) + reachU - 0.5));
    let squares = 0;
    let other = 0;
    for (let row = fromRow; row <= toRow; row++) {
      // Of the middle of the square: its way back along the course, and its way to the right of it.
      const dRow = v1 - row - 0.5;
      let back = (u1 - fromCol - 0.5) * a + dRow * b;
      let right = dRow * a - (u1 - fromCol - 0.5) * b;
      for (let at = row * cols + fromCol; at <= row * cols + toCol; at++) {
        if (back >= 0 && back < length && right >= -half && right < half) {
          squares++;
          if (first[at] === 0) first[at] = pass + 1;
          else if (first[at] !== pass + 1) other++;
        }
        back -= a;
        right += b;
      }
    }
    return squares === 0 ? 0 : other / squares;
  };
  return { cut };
}
