import type { Ring } from '../../engine/geometry/ring.ts';
import { tidyRing } from '../tidy-ring.ts';

/** A feature's geometry as we take it. `aside` geometries are kept out with their reason. */
export type Shape =
  | { readonly kind: 'none' }
  | { readonly kind: 'point'; readonly x: number; readonly y: number; readonly repair: string }
  | { readonly kind: 'polygon'; readonly rings: readonly Ring[] | null; readonly repair: string }
  | { readonly kind: 'aside'; readonly reason: string; readonly found: string };

export function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** A GeoJSON geometry (RFC 7946, section 3.1), null for an unlocated feature. */
export function shapeOf(geometry: unknown): Shape {
  if (geometry === null || geometry === undefined) return { kind: 'none' };
  if (!isObject(geometry)) return broken('a geometry that is no object');
  const { type, coordinates } = geometry;
  if (type === 'Point') return point(coordinates, '');
  if (type === 'MultiPoint' && Array.isArray(coordinates) && coordinates.length === 1) {
    return point(coordinates[0], 'a multipoint of one');
  }
  if (type === 'Polygon') return polygon([coordinates]);
  if (type === 'MultiPolygon')
    return Array.isArray(coordinates) ? polygon(coordinates) : broken('no coordinates');
  if (typeof type !== 'string') return broken('a geometry without a type');
  return { kind: 'aside', reason: 'geometry-not-used', found: type.slice(0, 40) };
}

function broken(found: string): Shape {
  return { kind: 'aside', reason: 'geometry-broken', found };
}

function point(position: unknown, repair: string): Shape {
  return isPosition(position)
    ? { kind: 'point', x: position[0], y: position[1], repair }
    : broken('a position without two numbers');
}

/** All rings of all parts, as read. Open rings are closed, rings of under three corners left out; `repair` says so. */
function polygon(parts: readonly unknown[]): Shape {
  const rings: Ring[] = [];
  let open = 0;
  let short = 0;
  for (const part of parts) {
    if (!Array.isArray(part)) return broken('a polygon without rings');
    for (const positions of part) {
      if (!Array.isArray(positions) || !positions.every(isPosition))
        return broken('a position without two numbers');
      const flat = new Float64Array(positions.length * 2);
      positions.forEach((position, i) => {
        flat[2 * i] = position[0];
        flat[2 * i + 1] = position[1];
      });
      const tidy = tidyRing(flat);
      if (tidy === null) short++;
      else {
        rings.push(tidy.ring);
        if (!tidy.closed) open++;
      }
    }
  }
  const repairs: string[] = [];
  if (open > 0) repairs.push(`${open} open ${open === 1 ? 'ring' : 'rings'} closed`);
  if (short > 0) repairs.push(`${short} ${short === 1 ? 'ring' : 'rings'} of under three corners left out`);
  return { kind: 'polygon', rings: rings.length === 0 ? null : rings, repair: repairs.join(', ') };
}

function isPosition(value: unknown): value is [number, number] {
  return Array.isArray(value) && Number.isFinite(value[0]) && Number.isFinite(value[1]);
}
