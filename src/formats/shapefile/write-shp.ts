import type { Ring } from '../../engine/geometry/ring.ts';
import { type PolygonLayer, refuseExport, wound } from '../polygon-layer.ts';

const MAX_BYTES = 2 ** 31 - 1;

/** The .shp and .shx of a layer (white paper 1998): outer rings clockwise, holes counter-clockwise, rings closed. */
export function shpBytes(layer: PolygonLayer): { shp: Uint8Array; shx: Uint8Array } {
  const records = layer.features.map(({ rings }) =>
    rings.flatMap((polygon) => polygon.map((ring, hole) => wound(ring, hole > 0))),
  );
  const lengths = records.map((rings) => rings.reduce((sum, ring) => sum + 4 + 8 * (ring.length + 2), 44));
  const size = lengths.reduce((sum, length) => sum + 8 + length, 100);
  if (size > MAX_BYTES) refuseExport(layer.name, `${size} bytes of shapes`, `at most ${MAX_BYTES}`);
  const shp = new DataView(new ArrayBuffer(size));
  const shx = new DataView(new ArrayBuffer(100 + 8 * records.length));
  const whole = boxOf(records.flat());
  writeHeader(shp, whole);
  writeHeader(shx, whole);
  let at = 100;
  records.forEach((rings, index) => {
    shx.setInt32(100 + 8 * index, at / 2);
    shx.setInt32(104 + 8 * index, lengths[index] / 2);
    shp.setInt32(at, index + 1);
    shp.setInt32(at + 4, lengths[index] / 2);
    writePolygon(shp, at + 8, rings);
    at += 8 + lengths[index];
  });
  return { shp: new Uint8Array(shp.buffer), shx: new Uint8Array(shx.buffer) };
}

type Box = readonly [west: number, south: number, east: number, north: number];

function writeHeader(view: DataView, box: Box): void {
  view.setInt32(0, 9994);
  view.setInt32(24, view.byteLength / 2);
  view.setInt32(28, 1000, true);
  view.setInt32(32, 5, true);
  box.forEach((value, i) => {
    view.setFloat64(36 + 8 * i, value, true);
  });
}

function writePolygon(view: DataView, start: number, rings: readonly Ring[]): void {
  view.setInt32(start, 5, true);
  boxOf(rings).forEach((value, i) => {
    view.setFloat64(start + 4 + 8 * i, value, true);
  });
  view.setInt32(start + 36, rings.length, true);
  let points = 0;
  let at = start + 44 + 4 * rings.length;
  rings.forEach((ring, part) => {
    view.setInt32(start + 44 + 4 * part, points, true);
    for (let i = 0; i < ring.length + 2; i++, at += 8) view.setFloat64(at, ring[i % ring.length], true);
    points += ring.length / 2 + 1;
  });
  view.setInt32(start + 40, points, true);
}

function boxOf(rings: readonly Ring[]): Box {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i += 2) {
      west = Math.min(west, ring[i]);
      east = Math.max(east, ring[i]);
      south = Math.min(south, ring[i + 1]);
      north = Math.max(north, ring[i + 1]);
    }
  }
  return [west, south, east, north];
}
