import initGeos from 'geos-wasm';
import type { Region, Ring } from '../../src/engine/geometry/ring.ts';

// GEOS 3.13.0 (geos-wasm 3.1.1), which overlays in full double coordinates: a general library, asked for the same areas.
// What it says of invalid rings is asked for by isValid, and not printed.
const geos = await initGeos({ noticeHandler: () => null });

/** A geometry of GEOS; those made here are freed with the process. */
export type Geometry = number;

function line(ring: Ring): number {
  const closed = Float64Array.from([...ring, ring[0], ring[1]]);
  const buffer = geos.Module._malloc(closed.byteLength);
  geos.Module.HEAPF64.set(closed, buffer / 8);
  const sequence = geos.GEOSCoordSeq_copyFromBuffer(buffer, closed.length / 2, 0, 0);
  geos.Module._free(buffer);
  return geos.GEOSGeom_createLinearRing(sequence);
}

export function polygonOf([outer, ...holes]: readonly Ring[]): Geometry {
  const pointers = geos.Module._malloc(4 * Math.max(1, holes.length));
  holes.forEach((hole, k) => {
    geos.Module.HEAPU32[pointers / 4 + k] = line(hole);
  });
  return geos.GEOSGeom_createPolygon(line(outer), pointers, holes.length);
}

export const regionOf = ([{ outer, holes }]: Region): Geometry => polygonOf([outer, ...holes]);

export function areaOf(geometry: Geometry): number {
  const area = geos.Module._malloc(8);
  geos.GEOSArea(geometry, area);
  const value = geos.Module.getValue(area, 'double');
  geos.Module._free(area);
  return value;
}

export const isValid = (geometry: Geometry): boolean => geos.GEOSisValid(geometry) === 1;
export const intersection = (a: Geometry, b: Geometry): Geometry => geos.GEOSIntersection(a, b);
export const difference = (a: Geometry, b: Geometry): Geometry => geos.GEOSDifference(a, b);
export const union = (a: Geometry, b: Geometry): Geometry => geos.GEOSUnion(a, b);
export const symmetricDifference = (a: Geometry, b: Geometry): Geometry => geos.GEOSSymDifference(a, b);

export function free(geometry: Geometry): void {
  geos.GEOSGeom_destroy(geometry);
}
