import type { Issue } from '../../engine/issue.ts';
import { extraBytes } from './shp-header.ts';
import { refuseShp } from './shp-refusal.ts';

export interface WholeRecords {
  readonly records: number;
  /** The file ends before the length its header states. */
  readonly cut: boolean;
  readonly issues: readonly Issue[];
}

/**
 * Walks the record headers once: how many whole records there are up to the stated end, or to where the file is cut. Lengths that lead nowhere are
 * refused; zeros to the end are no records.
 */
export function wholeRecords(view: DataView, end: number, where: string): WholeRecords {
  let records = 0;
  let at = 100;
  while (at < end) {
    if (at + 8 > view.byteLength) return { records, cut: true, issues: [] };
    const length = view.getInt32(at + 4) * 2;
    const next = at + 8 + length;
    if (length < 4 || next > end) {
      if (length === 0 && onlyZeros(view, at, end)) {
        const found = `zeros from byte ${at} to the end`;
        return { records, cut: false, issues: [extraBytes(where, found, 'records')] };
      }
      refuseShp(
        'shp-record-length',
        `${where} › record ${records + 1}`,
        `a length of ${length} bytes at byte ${at}`,
        `4 to ${end - at - 8} bytes`,
        'Export the layer again',
      );
    }
    if (next > view.byteLength) return { records, cut: true, issues: [] };
    records++;
    at = next;
  }
  return { records, cut: false, issues: [] };
}

function onlyZeros(view: DataView, from: number, end: number): boolean {
  for (let at = from; at < Math.min(end, view.byteLength); at++) if (view.getUint8(at) !== 0) return false;
  return true;
}
