import { closeSync, mkdirSync, openSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { DATA, PASSES, POINTS_A_PASS } from './field.ts';
import { type YieldPoint, yieldPasses } from './yield-points.ts';

export const CSV_FILE = join(DATA, 'yield.csv');
export const SHP_FILE = join(DATA, 'yield.shp');

const POINTS = PASSES * POINTS_A_PASS;
const POINT_SHAPE = 1;
const RECORD_BYTES = 28;
const FIELDS = [
  { name: 'YIELD', type: 'N', width: 8, decimals: 2 },
  { name: 'MOISTURE', type: 'N', width: 5, decimals: 1 },
  { name: 'SPEED', type: 'N', width: 5, decimals: 2 },
  { name: 'HEADING', type: 'N', width: 5, decimals: 1 },
  { name: 'TIME', type: 'C', width: 19, decimals: 0 },
  { name: 'PASS', type: 'N', width: 4, decimals: 0 },
  { name: 'DISTANCE', type: 'N', width: 5, decimals: 2 },
  { name: 'SWATH', type: 'N', width: 4, decimals: 1 },
  { name: 'FLOW', type: 'N', width: 6, decimals: 2 },
] as const;
const WGS84_PRJ =
  'GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]';

/** Writes the million points as CSV and as a loose shapefile of the same figures, a pass at a time. */
export function writeYieldFiles(): void {
  mkdirSync(DATA, { recursive: true });
  const file = (extension: string) => openSync(join(DATA, `yield.${extension}`), 'w');
  const [csv, shp, shx, dbf, prj] = ['csv', 'shp', 'shx', 'dbf', 'prj'].map(file);
  writeSync(csv, `lon,lat,${FIELDS.map(({ name }) => name.toLowerCase()).join(',')}\n`);
  // The header's box is known only at the end: it is written over then.
  writeSync(shp, header(100 + POINTS * RECORD_BYTES, [0, 0, 0, 0]));
  writeSync(dbf, dbfHeader());
  writeSync(prj, WGS84_PRJ);
  const box: Box = [Infinity, Infinity, -Infinity, -Infinity];
  let first = 0;
  for (const points of yieldPasses()) {
    writeSync(csv, points.map(csvRow).join(''));
    writeSync(shp, pointRecords(points, first, box));
    writeSync(dbf, points.map(dbfRow).join(''));
    first += points.length;
  }
  writeSync(dbf, '\u001a');
  writeSync(shp, header(100 + POINTS * RECORD_BYTES, box), 0, 100, 0);
  writeSync(shx, header(100 + POINTS * 8, box));
  writeSync(shx, index());
  for (const open of [csv, shp, shx, dbf, prj]) closeSync(open);
}

type Box = [west: number, south: number, east: number, north: number];

function csvRow({ lon, lat, cells }: YieldPoint): string {
  return `${lon.toFixed(8)},${lat.toFixed(8)},${cells.join(',')}\n`;
}

function dbfRow({ cells }: YieldPoint): string {
  return ` ${FIELDS.map(({ type, width }, i) => (type === 'C' ? cells[i].padEnd(width) : cells[i].padStart(width))).join('')}`;
}

function header(bytes: number, box: Box): Uint8Array {
  const view = new DataView(new ArrayBuffer(100));
  view.setInt32(0, 9994);
  view.setInt32(24, bytes / 2);
  view.setInt32(28, 1000, true);
  view.setInt32(32, POINT_SHAPE, true);
  box.forEach((value, i) => {
    view.setFloat64(36 + 8 * i, value, true);
  });
  return new Uint8Array(view.buffer);
}

function pointRecords(points: readonly YieldPoint[], first: number, box: Box): Uint8Array {
  const view = new DataView(new ArrayBuffer(points.length * RECORD_BYTES));
  points.forEach(({ lon, lat }, k) => {
    const at = k * RECORD_BYTES;
    view.setInt32(at, first + k + 1);
    view.setInt32(at + 4, (RECORD_BYTES - 8) / 2);
    view.setInt32(at + 8, POINT_SHAPE, true);
    view.setFloat64(at + 12, lon, true);
    view.setFloat64(at + 20, lat, true);
    box[0] = Math.min(box[0], lon);
    box[1] = Math.min(box[1], lat);
    box[2] = Math.max(box[2], lon);
    box[3] = Math.max(box[3], lat);
  });
  return new Uint8Array(view.buffer);
}

function index(): Uint8Array {
  const view = new DataView(new ArrayBuffer(POINTS * 8));
  for (let k = 0; k < POINTS; k++) {
    view.setInt32(8 * k, (100 + k * RECORD_BYTES) / 2);
    view.setInt32(8 * k + 4, (RECORD_BYTES - 8) / 2);
  }
  return new Uint8Array(view.buffer);
}

function dbfHeader(): Uint8Array {
  const start = 32 + 32 * FIELDS.length + 1;
  const bytes = new Uint8Array(start);
  const view = new DataView(bytes.buffer);
  bytes.set([3, 126, 11, 2]);
  view.setUint32(4, POINTS, true);
  view.setUint16(8, start, true);
  view.setUint16(
    10,
    FIELDS.reduce((sum, { width }) => sum + width, 1),
    true,
  );
  FIELDS.forEach(({ name, type, width, decimals }, i) => {
    const at = 32 + 32 * i;
    bytes.set(new TextEncoder().encode(name), at);
    bytes[at + 11] = type.charCodeAt(0);
    bytes[at + 16] = width;
    bytes[at + 17] = decimals;
  });
  bytes[start - 1] = 0x0d;
  return bytes;
}
