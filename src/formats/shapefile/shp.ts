import type { Ring } from '../../engine/geometry/ring.ts';
import type { Issue } from '../../engine/issue.ts';
import { note } from '../tally.ts';
import { polygonRings } from './polygon-record.ts';
import { type ShpHeader, shpHeader } from './shp-header.ts';
import { isPlace, refuseShp, shortRecord } from './shp-refusal.ts';
import { shpReports, shpTallies } from './shp-reports.ts';
import { wholeRecords } from './whole-records.ts';
import { windingRepair } from './winding.ts';

/** The geometry member, record by record: points in x and y (NaN for none), or rings (null for none). */
export interface Shapes {
  readonly kind: 'points' | 'polygons';
  /** Whole records in the file. */
  readonly records: number;
  /** The file ends before the length its header states; records may be missing. */
  readonly cut: boolean;
  /** Bytes the header states. */
  readonly end: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly rings: readonly (readonly Ring[] | null)[];
  /** Records without a usable shape, each with its reason. */
  readonly without: ReadonlyMap<number, Without>;
  /** Records whose rings needed a repair. */
  readonly repaired: ReadonlySet<number>;
  /** Byte offset of each record header, for comparing with the index. */
  readonly offsets: Float64Array;
  readonly issues: readonly Issue[];
}

type Without = 'no-geometry' | 'coordinate-not-finite' | 'several-points' | 'ring-too-short';

/**
 * Reads a .shp strictly (ESRI Shapefile Technical Description, 1998): header, stated against real length, every
 * record's length against its content. Z and M are left out. Throws a Refusal when a record cannot be trusted.
 */
export function readShp(bytes: Uint8Array, where: string): Shapes {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const { kind, type, end, issues } = shpHeader(view, where);
  const { records, cut, issues: walked } = wholeRecords(view, end, where);
  if (cut && records === 0) {
    const found = `${view.byteLength} bytes, no whole record`;
    refuseShp('shp-truncated', where, found, `${end} bytes by its header`, 'Copy or download the file again');
  }
  const offsets = new Float64Array(records);
  const polygons = kind === 'polygons';
  const x = new Float64Array(polygons ? 0 : records);
  const y = new Float64Array(polygons ? 0 : records);
  const rings: (readonly Ring[] | null)[] = [];
  const repaired = new Set<number>();
  const without = new Map<number, Without>();
  const tallies = shpTallies();
  const leaveOut = (record: number, reason: Without) => {
    without.set(record, reason);
    if (polygons) rings.push(null);
    else x[record] = y[record] = Number.NaN;
  };
  let at = 100;
  for (let record = 0; record < records; record++) {
    offsets[record] = at;
    const length = view.getInt32(at + 4) * 2;
    const content = at + 8;
    const own = view.getInt32(content, true);
    if (view.getInt32(at) !== record + 1) note(tallies.numbers, record + 1);
    if (own !== 0 && own !== type) refuseMixed(where, record, own, type);
    if (own === 0) {
      leaveOut(record, 'no-geometry');
      note(tallies.nulls, record + 1);
    } else if (polygons) {
      const shape = polygonRings(view, content, length, `${where} › record ${record + 1}`);
      const winding = shape.rings === null ? '' : windingRepair(shape.rings);
      if (shape.notFinite > 0) {
        leaveOut(record, 'coordinate-not-finite');
        note(tallies.notFinite, `${record + 1} (vertex ${shape.notFinite})`);
      } else if (shape.rings === null) {
        leaveOut(record, 'ring-too-short');
        note(tallies.empty, record + 1);
      } else rings.push(shape.rings);
      if (shape.repair !== '') note(tallies.repairs, `${record + 1} (${shape.repair})`);
      if (winding !== '') note(tallies.winding, `${record + 1} (${winding})`);
      if (shape.rings !== null && (shape.repair !== '' || winding !== '')) repaired.add(record);
    } else {
      const place = pointAt(view, kind, content, length, where, record);
      if (place < 0) {
        leaveOut(record, 'several-points');
        note(tallies.several, `${record + 1} (${-place} points)`);
        at = content + length;
        continue;
      }
      x[record] = view.getFloat64(place, true);
      y[record] = view.getFloat64(place + 8, true);
      if (!isPlace(x[record]) || !isPlace(y[record])) {
        leaveOut(record, 'coordinate-not-finite');
        note(tallies.notFinite, `${record + 1} (vertex 1)`);
      }
    }
    at = content + length;
  }
  refuseUseless(where, records - without.size, tallies);
  return {
    kind: polygons ? 'polygons' : 'points',
    ...{ records, cut, end, x, y, rings, without, repaired, offsets },
    issues: [...issues, ...walked, ...shpReports(tallies, where)],
  };
}

/** Byte of the coordinates of a record of one point; the number of points, negative, where there is not one. */
function pointAt(
  view: DataView,
  kind: ShpHeader['kind'],
  content: number,
  length: number,
  where: string,
  record: number,
): number {
  if (kind === 'points') {
    if (length < 20) shortRecord(where, record, length, 20);
    return content + 4;
  }
  if (length < 40) shortRecord(where, record, length, 40);
  const points = view.getInt32(content + 36, true);
  if (points < 1 || 40 + 16 * points > length) shortRecord(where, record, length, 40 + 16 * points);
  return points === 1 ? content + 40 : -points;
}

function refuseMixed(where: string, record: number, own: number, type: number): never {
  const found = `a shape of type ${own} in a file of type ${type}`;
  return refuseShp(
    'shp-mixed-types',
    `${where} › record ${record + 1}`,
    found,
    'one type a file',
    'Export it again',
  );
}

/** Shapes there are, but not one of them has a place. */
function refuseUseless(
  where: string,
  placed: number,
  { notFinite, several }: ReturnType<typeof shpTallies>,
): void {
  if (placed > 0) return;
  if (notFinite.count > 0) {
    refuseShp(
      'coordinate-not-finite',
      `${where} › record ${notFinite.first[0]}`,
      `coordinates that are no numbers or stand for no data in ${notFinite.count} ${notFinite.count === 1 ? 'record' : 'records'}, and no other shape`,
      'finite coordinates',
      'Repair these records and export the layer again',
    );
  }
  if (several.count > 0) {
    const found = `several points in a record, as in record ${several.first[0]}`;
    refuseShp('shp-type', where, found, 'one point a record', 'Export the layer as single points');
  }
}
