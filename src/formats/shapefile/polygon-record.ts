import type { Ring } from '../../engine/geometry/ring.ts';
import { tidyRing } from '../tidy-ring.ts';
import { isPlace, refuseShp } from './shp-refusal.ts';

/**
 * Rings of one polygon record (box, counts, ring starts, points; white paper p. 8), as read and not yet nested.
 * Rings left open are closed and rings of fewer than three corners left out; `repair` says so. `notFinite`: the first vertex (from 1) that is no
 * number or stands for no data, 0 without one; there are no rings then.
 */
export function polygonRings(
  view: DataView,
  content: number,
  length: number,
  where: string,
): { rings: Ring[] | null; repair: string; notFinite: number } {
  const parts = length < 44 ? -1 : view.getInt32(content + 36, true);
  const points = length < 44 ? -1 : view.getInt32(content + 40, true);
  const needed = 44 + 4 * parts + 16 * points;
  if (parts < 0 || points < 0 || needed > length) {
    const found = length < 44 ? `${length} bytes` : `${parts} rings and ${points} points in ${length} bytes`;
    refuseShp('shp-record-length', where, found, 'counts that fill the record', 'Export the layer again');
  }
  const starts = Array.from({ length: parts }, (_, part) => view.getInt32(content + 44 + 4 * part, true));
  const base = content + 44 + 4 * parts;
  const rings: Ring[] = [];
  let open = 0;
  let short = 0;
  for (let part = 0; part < parts; part++) {
    const from = starts[part];
    const to = part + 1 < parts ? starts[part + 1] : points;
    if (from < 0 || to > points || from > to || (part === 0 && from !== 0)) {
      const found = `ring ${part + 1} from point ${from} to ${to} of ${points}`;
      refuseShp('shp-record-length', where, found, 'ring starts in order', 'Export the layer again');
    }
    const flat = new Float64Array(2 * (to - from));
    for (let i = 0; i < flat.length; i++) {
      flat[i] = view.getFloat64(base + 16 * from + 8 * i, true);
      if (!isPlace(flat[i])) return { rings: null, repair: '', notFinite: from + (i >> 1) + 1 };
    }
    const tidy = tidyRing(flat);
    if (tidy === null) short++;
    else {
      if (!tidy.closed) open++;
      rings.push(tidy.ring);
    }
  }
  const repairs: string[] = [];
  if (open > 0) repairs.push(`${open} open ${open === 1 ? 'ring' : 'rings'} closed`);
  if (short > 0) repairs.push(`${short} ${short === 1 ? 'ring' : 'rings'} of under three corners left out`);
  return { rings: rings.length === 0 ? null : rings, repair: repairs.join(', '), notFinite: 0 };
}
