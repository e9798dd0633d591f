import type { Ring } from '../../engine/geometry/ring.ts';
import { tidyRing } from '../tidy-ring.ts';
import type { XmlElement } from '../xml/read-xml.ts';
import { childNamed, childrenNamed, textIn } from '../xml/tree.ts';
import { positionsIn } from './coordinates.ts';

/** A placemark's geometry as we take it. `aside` ones are kept out with their reason. */
export type Shape =
  | ({ readonly kind: 'point'; readonly x: number; readonly y: number } & Taken)
  | ({ readonly kind: 'polygon'; readonly rings: readonly Ring[] } & Taken)
  | { readonly kind: 'aside'; readonly reason: string; readonly found: string };

interface Taken {
  /** What was changed, '' for nothing. */
  readonly repair: string;
  readonly high: boolean;
}

const GEOMETRIES = ['Point', 'LineString', 'LinearRing', 'Polygon', 'Model', 'Track', 'MultiTrack'];

/** Polygons win over points, and points over lines, in a placemark that has several. `swapped`: latitudes stand before longitudes. */
export function shapeOf(placemark: XmlElement, swapped = false): Shape {
  const parts = geometriesIn(placemark);
  if (parts.length === 0) {
    const address = childNamed(placemark, 'address') ? 'only an address' : 'no geometry';
    return { kind: 'aside', reason: 'no-geometry', found: address };
  }
  const polygons = parts.filter(({ name }) => name === 'Polygon');
  if (polygons.length > 0) return polygon(polygons, leftOut(parts.length - polygons.length), swapped);
  const points = parts.filter(({ name }) => name === 'Point');
  if (points.length === 1) return point(points[0], leftOut(parts.length - 1), swapped);
  const found = points.length > 1 ? `${points.length} points in one` : parts[0].name;
  return { kind: 'aside', reason: 'geometry-not-used', found };
}

function geometriesIn(element: XmlElement): XmlElement[] {
  return element.children.flatMap((child) => {
    if (child.name === 'MultiGeometry') return geometriesIn(child);
    return GEOMETRIES.includes(child.name) ? [child] : [];
  });
}

function leftOut(parts: number): string[] {
  return parts === 0 ? [] : [`${parts} parts of another kind left out`];
}

function badCoordinates(found: string): Shape {
  return { kind: 'aside', reason: 'kml-coordinates', found };
}

function point(element: XmlElement, repairs: readonly string[], swapped: boolean): Shape {
  const { flat, high, bad } = positionsOf(element, swapped);
  if (bad !== '') return badCoordinates(bad);
  if (flat.length !== 2) return badCoordinates(`${flat.length / 2} positions in a point`);
  return { kind: 'point', x: flat[0], y: flat[1], repair: repairs.join(', '), high };
}

function polygon(parts: readonly XmlElement[], repairs: string[], swapped: boolean): Shape {
  const rings: Ring[] = [];
  let [open, short, high] = [0, 0, false];
  for (const part of parts) {
    const outer = ringsOf(part, 'outerBoundaryIs');
    if (outer.length !== 1) return badCoordinates(`a polygon with ${outer.length} outer rings`);
    for (const [index, element] of [...outer, ...ringsOf(part, 'innerBoundaryIs')].entries()) {
      const positions = positionsOf(element, swapped);
      if (positions.bad !== '') return badCoordinates(positions.bad);
      if (positions.high) high = true;
      const tidy = tidyRing(positions.flat);
      if (tidy) {
        rings.push(tidy.ring);
        if (!tidy.closed) open++;
      } else {
        short++;
        // Without its outer ring the holes of a polygon would turn into land.
        if (index === 0) break;
      }
    }
  }
  if (rings.length === 0) {
    return { kind: 'aside', reason: 'ring-too-short', found: 'no ring of three corners' };
  }
  if (open > 0) repairs.push(`${open} open ${open === 1 ? 'ring' : 'rings'} closed`);
  if (short > 0) repairs.push(`${short} ${short === 1 ? 'ring' : 'rings'} of under three corners left out`);
  return { kind: 'polygon', rings, repair: repairs.join(', '), high };
}

function ringsOf(polygon: XmlElement, boundary: string): XmlElement[] {
  return childrenNamed(polygon, boundary).flatMap((element) => childrenNamed(element, 'LinearRing'));
}

function positionsOf(element: XmlElement, swapped: boolean) {
  const coordinates = childNamed(element, 'coordinates');
  return positionsIn(coordinates ? textIn(coordinates) : '', swapped);
}
