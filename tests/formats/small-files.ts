import { Refusal } from '../../src/engine/issue.ts';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import type { PolygonLayer } from '../../src/formats/polygon-layer.ts';

export function textFile(text: string, name = 'table.csv'): FileBytes {
  return { name, bytes: new TextEncoder().encode(text) };
}

/** The code of the issue a call refuses with; 'none' when it does not, and any other error goes on. */
export function refusalOf(call: () => unknown): string {
  return refusal(call)?.issue.code ?? 'none';
}

export function refusal(call: () => unknown): Refusal | null {
  try {
    call();
    return null;
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
}

/** A .shp of the given shapes laid out by hand, sharing nothing with our writer. */
export function shpFile(type: number, contents: readonly Uint8Array[], name = 'a.shp'): FileBytes {
  const size = contents.reduce((sum, content) => sum + 8 + content.length, 100);
  const view = new DataView(new ArrayBuffer(size));
  view.setInt32(0, 9994);
  view.setInt32(24, size / 2);
  view.setInt32(28, 1000, true);
  view.setInt32(32, type, true);
  boxOf(contents).forEach((value, i) => {
    view.setFloat64(36 + 8 * i, value, true);
  });
  let at = 100;
  contents.forEach((content, index) => {
    view.setInt32(at, index + 1);
    view.setInt32(at + 4, content.length / 2);
    new Uint8Array(view.buffer).set(content, at + 8);
    at += 8 + content.length;
  });
  return { name, bytes: new Uint8Array(view.buffer) };
}

function boxOf(contents: readonly Uint8Array[]): number[] {
  const box = [Infinity, Infinity, -Infinity, -Infinity];
  for (const content of contents) {
    const view = new DataView(content.buffer);
    const type = view.getInt32(0, true);
    const from = type % 10 === 1 ? 4 : type === 8 ? 40 : 44 + 4 * (type === 0 ? 0 : view.getInt32(36, true));
    for (let at = from; at + 16 <= content.length; at += 16) {
      const [x, y] = [view.getFloat64(at, true), view.getFloat64(at + 8, true)];
      box.splice(0, 4, Math.min(box[0], x), Math.min(box[1], y), Math.max(box[2], x), Math.max(box[3], y));
    }
  }
  return box[0] <= box[2] ? box : [0, 0, 0, 0];
}

export function pointContent(x: number, y: number): Uint8Array {
  const view = new DataView(new ArrayBuffer(20));
  view.setInt32(0, 1, true);
  view.setFloat64(4, x, true);
  view.setFloat64(12, y, true);
  return new Uint8Array(view.buffer);
}

export const NULL_CONTENT = new Uint8Array(4);

/** Rings as given, closed or not, box left at zero. */
export function polygonContent(rings: readonly (readonly [number, number])[][], type = 5): Uint8Array {
  const points = rings.flat();
  const view = new DataView(new ArrayBuffer(44 + 4 * rings.length + 16 * points.length));
  view.setInt32(0, type, true);
  view.setInt32(36, rings.length, true);
  view.setInt32(40, points.length, true);
  let first = 0;
  rings.forEach((ring, part) => {
    view.setInt32(44 + 4 * part, first, true);
    first += ring.length;
  });
  points.forEach(([x, y], i) => {
    view.setFloat64(44 + 4 * rings.length + 16 * i, x, true);
    view.setFloat64(52 + 4 * rings.length + 16 * i, y, true);
  });
  return new Uint8Array(view.buffer);
}

/** A .dbf laid out by hand: columns of [name, type, width], rows of cells already as wide as their columns. */
export function dbfFile(
  columns: readonly (readonly [string, string, number])[],
  rows: readonly (readonly string[])[],
  { language = 0, deleted = [] as number[], name = 'a.dbf' } = {},
): FileBytes {
  const latin1 = (text: string) => Uint8Array.from(text, (letter) => letter.charCodeAt(0));
  const start = 32 + 32 * columns.length + 1;
  const rowLength = columns.reduce((sum, column) => sum + column[2], 1);
  const bytes = new Uint8Array(start + rowLength * rows.length + 1).fill(32, start);
  const view = new DataView(bytes.buffer);
  bytes.set([3, 126, 11, 24]);
  view.setUint32(4, rows.length, true);
  view.setUint16(8, start, true);
  view.setUint16(10, rowLength, true);
  bytes[29] = language;
  columns.forEach(([title, type, width], index) => {
    bytes.set(latin1(title), 32 + 32 * index);
    bytes[32 + 32 * index + 11] = type.charCodeAt(0);
    bytes[32 + 32 * index + 16] = width;
  });
  bytes[start - 1] = 13;
  rows.forEach((row, index) => {
    bytes.set(latin1((deleted.includes(index) ? '*' : ' ') + row.join('')), start + index * rowLength);
  });
  bytes[bytes.length - 1] = 0x1a;
  return { name, bytes };
}

/** Degrees around one invented corner; the hole and the second part exercise both windings. */
export function smallLayer(): PolygonLayer {
  const square = (x: number, y: number, side: number) =>
    Float64Array.of(x, y, x + side, y, x + side, y + side, x, y + side);
  const clockwise = (ring: Float64Array) => {
    const pairs = [3, 2, 1, 0].map((i) => [ring[2 * i], ring[2 * i + 1]]);
    return Float64Array.from(pairs.flat());
  };
  return {
    name: 'Home 80, seed',
    fields: [
      { name: 'PRODUCT', kind: 'text', width: 20, decimals: 0 },
      { name: 'SEEDS_AC', kind: 'number', width: 11, decimals: 1 },
      { name: 'ZONE', kind: 'number', width: 4, decimals: 0 },
    ],
    features: [
      {
        rings: [[square(-93.5, 42, 0.01), clockwise(square(-93.497, 42.003, 0.003))]],
        values: ['Maïs 108', 32000.5, 1],
      },
      {
        rings: [
          [clockwise(square(-93.48, 42, 0.002))],
          [square(-93.47, 42, 0.002), square(-93.4695, 42.0005, 0.001)],
        ],
        values: ['=Kestrel', 28000, 2],
      },
      { rings: [[square(-93.46, 42.0000001, 0.0123456789)]], values: ['', 0, 3] },
    ],
    date: { year: 2026, month: 11, day: 24 },
    notes: { unit: 'seeds/ac' },
  };
}

/** Several points in one record. */
export function multipointContent(points: readonly (readonly [number, number])[]): Uint8Array {
  const view = new DataView(new ArrayBuffer(40 + 16 * points.length));
  view.setInt32(0, 8, true);
  view.setInt32(36, points.length, true);
  points.forEach(([x, y], i) => {
    view.setFloat64(40 + 16 * i, x, true);
    view.setFloat64(48 + 16 * i, y, true);
  });
  return new Uint8Array(view.buffer);
}

/** A .shx of the records of a .shp, by the same hand. */
export function shxFile(shp: FileBytes, name = 'a.shx'): FileBytes {
  const from = new DataView(shp.bytes.buffer, shp.bytes.byteOffset, shp.bytes.byteLength);
  const entries: [number, number][] = [];
  for (let at = 100; at + 8 <= shp.bytes.length; at += 8 + 2 * from.getInt32(at + 4)) {
    entries.push([at / 2, from.getInt32(at + 4)]);
  }
  const bytes = new Uint8Array(100 + 8 * entries.length);
  bytes.set(shp.bytes.subarray(0, 100));
  const view = new DataView(bytes.buffer);
  view.setInt32(24, bytes.length / 2);
  entries.forEach(([offset, length], i) => {
    view.setInt32(100 + 8 * i, offset);
    view.setInt32(104 + 8 * i, length);
  });
  return { name, bytes };
}

export const WGS84_PRJ = textFile(
  'GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]',
  'a.prj',
);
