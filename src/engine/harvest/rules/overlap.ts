import type { CleaningRule } from '../cleaning-rule.ts';
import type { Passes } from '../harvest-log.ts';
import { type TravelFrame, travelFrame } from '../travel-frame.ts';
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
  judge: (log, passes, kept, { share }, frame = travelFrame(log, passes)) => {
    const { swath_m, value } = log;
    if (!swath_m) return null;
    const { order, pass } = passes;
    const header = trustedHeader(log);
    const cutsAgain = stripsOn(frame, kept, passes, swath_m, log.distance_m, share);
    const marks = new Uint8Array(log.records);
    for (let k = 1; k < order.length; k++) {
      const i = order[k];
      const before = order[k - 1];
      if (pass[i] < 0 || pass[before] !== pass[i] || header?.[i] === 0) continue;
      if (!(value[i] > 0 && swath_m[i] > 0 && swath_m[i] <= WIDEST_M)) continue;
      if (cutsAgain(before, i) && kept[i]) marks[i] = 1;
    }
    return marks;
  },
};

/**
 * Lays strips on a raster with rows across the passes, so that a strip lies in few of its squares; each holds one more than the pass that cut it first, 0 while it
 * stands. What is given back cuts the strip from the record before to a record, and tells whether other passes had cut more than `share` of it.
 */
function stripsOn(
  frame: TravelFrame,
  kept: Uint8Array,
  { pass, first: passes }: Passes,
  swath_m: Float64Array,
  distance_m: Float64Array | null,
  share: number,
): (before: number, i: number) => boolean {
  const { along_m, left_m } = frame;
  const extent = frame.extent(kept);
  // Columns count to the right, rows ahead.
  const [minU, maxU] = [-extent.left_m - BORDER_M, BORDER_M - extent.right_m];
  const [minV, maxV] = [extent.back_m - BORDER_M, extent.ahead_m + BORDER_M];
  const area_m2 = maxU > minU ? (maxU - minU) * (maxV - minV) : 0;
  const side = Math.max(RASTER_M, Math.sqrt(area_m2 / MOST_SQUARES));
  const cols = area_m2 > 0 ? Math.floor((maxU - minU) / side) + 1 : 0;
  const rows = area_m2 > 0 ? Math.floor((maxV - minV) / side) + 1 : 0;
  const first = passes.length < 2 ** 16 - 1 ? new Uint16Array(cols * rows) : new Uint32Array(cols * rows);
  const perMetre = 1 / side;

  return (before, i) => {
    const du = left_m[before] - left_m[i];
    const dv = along_m[i] - along_m[before];
    const step = Math.sqrt(du * du + dv * dv);
    if (!(step > 0)) return false;
    const way_m = distance_m && distance_m[i] > 0 ? distance_m[i] : step;
    const length = Math.min(LONGEST_M, way_m) * perMetre;
    const half = (swath_m[i] / 2) * perMetre;
    const a = du / step;
    const b = dv / step;
    const u1 = (-left_m[i] - minU) * perMetre;
    const v1 = (along_m[i] - minV) * perMetre;
    const u0 = u1 - a * length;
    const v0 = v1 - b * length;
    const reachU = Math.abs(b) * half;
    const reachV = Math.abs(a) * half;
    const fromRow = Math.max(0, Math.ceil(Math.min(v0, v1) - reachV - 0.5));
    const toRow = Math.min(rows - 1, Math.floor(Math.max(v0, v1) + reachV - 0.5));
    const fromCol = Math.max(0, Math.ceil(Math.min(u0, u1) - reachU - 0.5));
    const toCol = Math.min(cols - 1, Math.floor(Math.max(u0, u1) + reachU - 0.5));
    const own = pass[i] + 1;
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
          if (first[at] === 0) first[at] = own;
          else if (first[at] !== own) other++;
        }
        back -= a;
        right += b;
      }
    }
    return other > share * squares;
  };
}
