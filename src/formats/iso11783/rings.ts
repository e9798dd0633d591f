import type { Ring } from '../../engine/geometry/ring.ts';
import { decimalIn } from '../text/decimal.ts';
import { tidyRing } from '../tidy-ring.ts';
import type { XmlElement } from '../xml/read-xml.ts';
import { attribute, childrenNamed } from '../xml/tree.ts';

/** Rings of a record, or the reason it has none. */
export type Shape =
  | { readonly rings: readonly Ring[]; readonly repair: string }
  | { readonly rings: null; readonly reason: string; readonly found: string };

const EXTERIOR = '1';
const INTERIOR = '2';

/** The exterior and interior lines of polygons (PLN): several exteriors may share a polygon, and holes need one. */
export function ringsOf(polygons: readonly XmlElement[]): Shape {
  const rings: Ring[] = [];
  let [open, short] = [0, 0];
  for (const polygon of polygons) {
    let land = false;
    for (const kind of [EXTERIOR, INTERIOR]) {
      for (const line of childrenNamed(polygon, 'LSG')) {
        if (attribute(line, 'A') !== kind) continue;
        const flat = positionsOf(line);
        if (typeof flat === 'string') return { rings: null, reason: 'iso-coordinates', found: flat };
        const tidy = tidyRing(flat);
        if (tidy === null || (kind === INTERIOR && !land)) short++;
        else {
          land = true;
          rings.push(tidy.ring);
          if (!tidy.closed) open++;
        }
      }
    }
  }
  if (rings.length === 0) {
    return short > 0
      ? { rings: null, reason: 'ring-too-short', found: 'no ring of three corners' }
      : { rings: null, reason: 'no-geometry', found: 'no boundary' };
  }
  const repairs: string[] = [];
  if (open > 0) repairs.push(`${open} open ${open === 1 ? 'ring' : 'rings'} closed`);
  if (short > 0) repairs.push(`${short} ${short === 1 ? 'ring' : 'rings'} of under three corners left out`);
  return { rings, repair: repairs.join(', ') };
}

/** Longitude and latitude by turns; the first position that is no place on Earth as text. */
function positionsOf(line: XmlElement): Float64Array | string {
  const points = childrenNamed(line, 'PNT');
  const flat = new Float64Array(points.length * 2);
  for (const [i, point] of points.entries()) {
    const [north, east] = [attribute(point, 'C'), attribute(point, 'D')];
    flat[2 * i] = decimalIn(east);
    flat[2 * i + 1] = decimalIn(north);
    if (!(Math.abs(flat[2 * i]) <= 180) || !(Math.abs(flat[2 * i + 1]) <= 90)) {
      return `north '${north.slice(0, 30)}', east '${east.slice(0, 30)}' in line ${point.line}`;
    }
  }
  return flat;
}
