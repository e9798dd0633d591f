import initGeos from 'geos-wasm';
import { pairsThatMay, readOverlayField } from './overlay-field.ts';

/**
 * GEOS as contestant, a process of its own: `overlay-geos plain|prepared RINGS`. `plain` overlays every pair whose extents meet; `prepared` asks the prepared soil
 * first whether it covers the parcel or keeps clear of it, as its manual advises, and overlays only what is left. Prints the steps' milliseconds and the area.
 */
const [way, file] = process.argv.slice(2);
const steps: Record<string, number> = {};

const geos = await timedLater('load GEOS', () => initGeos());
const field = timed('read', () => readOverlayField(file));
const { parcels, soils } = timed('draw', () => ({
  parcels: field.parcels.map(polygonOf),
  soils: field.soils.map(polygonOf),
}));
const total = timed('overlay', overlayAll);
const { user, system } = process.cpuUsage();
console.log(JSON.stringify({ steps, total, cpu_ms: (user + system) / 1000 }));

function overlayAll(): number {
  const area = geos.Module._malloc(8);
  const areaOf = (geometry: number) => {
    geos.GEOSArea(geometry, area);
    return geos.Module.getValue(area, 'double');
  };
  const prepared = way === 'prepared' ? soils.map((soil) => geos.GEOSPrepare(soil)) : null;
  let sum = 0;
  for (const [i, j] of pairsThatMay(field)) {
    if (prepared) {
      if (geos.GEOSPreparedIntersects(prepared[j], parcels[i]) === 0) continue;
      if (geos.GEOSPreparedCovers(prepared[j], parcels[i]) === 1) {
        sum += areaOf(parcels[i]);
        continue;
      }
    }
    const both = geos.GEOSIntersection(parcels[i], soils[j]);
    if (!both) throw new Error(`GEOS has no intersection of parcel ${i} and soil ${j}`);
    sum += areaOf(both);
    geos.GEOSGeom_destroy(both);
  }
  return sum;
}

function polygonOf(ring: Float64Array): number {
  const closed = new Float64Array(ring.length + 2);
  closed.set(ring);
  closed.set(ring.subarray(0, 2), ring.length);
  const buffer = geos.Module._malloc(closed.byteLength);
  geos.Module.HEAPF64.set(closed, buffer / 8);
  const line = geos.GEOSCoordSeq_copyFromBuffer(buffer, closed.length / 2, 0, 0);
  geos.Module._free(buffer);
  const polygon = geos.GEOSGeom_createPolygon(geos.GEOSGeom_createLinearRing(line), 0, 0);
  if (geos.GEOSisValid(polygon) !== 1) throw new Error('GEOS calls a polygon of the bench invalid');
  return polygon;
}

async function timedLater<T>(step: string, work: () => Promise<T>): Promise<T> {
  const from = performance.now();
  const result = await work();
  steps[step] = performance.now() - from;
  return result;
}

function timed<T>(step: string, work: () => T): T {
  const from = performance.now();
  const result = work();
  steps[step] = performance.now() - from;
  return result;
}
