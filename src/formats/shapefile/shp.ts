import type { Ring } from '../../engine/geometry/ring.ts';
import type { Issue } from '../../engine/issue.ts';
import { newTally, note, type Tally, tallyText } from '../tally.ts';
import { polygonRings } from './polygon-record.ts';
import { isPlace, refuseShp, refuseVertex, shortRecord } from './shp-refusal.ts';

/** The geometry member, record by record: points in x and y (NaN for a null shape), or rings (null for one). */
export interface Shapes {
  readonly kind: 'points' | 'polygons';
  readonly records: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly rings: readonly (readonly Ring[] | null)[];
  /** Records without a usable shape, each with its reason. */
  readonly without: ReadonlyMap<number, 'no-geometry' | 'ring-too-short'>;
  /** Records whose rings needed a repair. */
  readonly repaired: ReadonlySet<number>;
  /** Byte offset of each record header, for comparing with the index. */
  readonly offsets: Float64Array;
  readonly issues: readonly Issue[];
}

const NAMES: Record<number, string> = {
  0: 'null shapes only',
  3: 'lines',
  8: 'multipoints',
  13: 'lines with Z',
  18: 'multipoints with Z',
  23: 'lines with M',
  28: 'multipoints with M',
  31: 'surfaces (multipatch)',
};
const POINTS = new Set([1, 11, 21]);
const POLYGONS = new Set([5, 15, 25]);

/**
 * Reads a .shp strictly (ESRI Shapefile Technical Description, 1998): header, stated against real length, every
 * record's length against its content. Z and M are left out. Throws a Refusal when a record cannot be trusted.
 */
export function readShp(bytes: Uint8Array, where: string): Shapes {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const { type, end, issues } = header(view, where);
  const records = countRecords(view, end, where);
  const offsets = new Float64Array(records);
  const polygons = POLYGONS.has(type);
  const x = new Float64Array(polygons ? 0 : records);
  const y = new Float64Array(polygons ? 0 : records);
  const rings: (readonly Ring[] | null)[] = [];
  const repaired = new Set<number>();
  const without = new Map<number, 'no-geometry' | 'ring-too-short'>();
  const tallies = { nulls: newTally(), repairs: newTally(), numbers: newTally(), empty: newTally() };
  let at = 100;
  for (let record = 0; record < records; record++) {
    offsets[record] = at;
    const length = view.getInt32(at + 4) * 2;
    const content = at + 8;
    const own = view.getInt32(content, true);
    if (view.getInt32(at) !== record + 1) note(tallies.numbers, record + 1);
    if (own !== 0 && own !== type) {
      const found = `a shape of type ${own} in a file of type ${type}`;
      refuseShp(
        'shp-mixed-types',
        `${where} › record ${record + 1}`,
        found,
        'one type a file',
        'Export it again',
      );
    }
    if (own === 0) {
      without.set(record, 'no-geometry');
      note(tallies.nulls, record + 1);
      if (polygons) rings.push(null);
      else x[record] = y[record] = Number.NaN;
    } else if (polygons) {
      const shape = polygonRings(view, content, length, `${where} › record ${record + 1}`);
      if (shape.repair !== '') note(tallies.repairs, `${record + 1} (${shape.repair})`);
      if (shape.rings === null) {
        without.set(record, 'ring-too-short');
        note(tallies.empty, record + 1);
      } else if (shape.repair !== '') repaired.add(record);
      rings.push(shape.rings);
    } else {
      if (length < 20) shortRecord(where, record, length, 20);
      x[record] = view.getFloat64(content + 4, true);
      y[record] = view.getFloat64(content + 12, true);
      if (!isPlace(x[record]) || !isPlace(y[record])) refuseVertex(`${where} › record ${record + 1}`, 1);
    }
    at = content + length;
  }
  issues.push(...reports(tallies, where));
  return { kind: polygons ? 'polygons' : 'points', records, x, y, rings, without, repaired, offsets, issues };
}

function header(view: DataView, where: string): { type: number; end: number; issues: Issue[] } {
  if (view.byteLength < 100 || view.getInt32(0) !== 9994) {
    const found = view.byteLength < 100 ? `${view.byteLength} bytes` : 'no shapefile signature';
    refuseShp('shp-header', where, found, 'a 100-byte header beginning with 9994', 'Export the layer again');
  }
  const version = view.getInt32(28, true);
  if (version !== 1000) {
    refuseShp('shp-header', where, `version ${version}`, 'version 1000', 'Export the layer again');
  }
  const type = view.getInt32(32, true);
  if (!POINTS.has(type) && !POLYGONS.has(type)) {
    const found = NAMES[type] ?? `unknown shape type ${type}`;
    refuseShp('shp-type', where, found, 'points or polygons', 'Export the layer as points or polygons');
  }
  const stated = view.getInt32(24) * 2;
  if (stated < 100) {
    refuseShp(
      'shp-header',
      where,
      `a stated length of ${stated} bytes`,
      'at least 100',
      'Export the layer again',
    );
  }
  const issues: Issue[] = [];
  if (type > 10) {
    issues.push({
      code: 'shp-z-m-dropped',
      severity: 'note',
      where,
      found: `shapes with ${type < 20 ? 'Z' : 'M'} values`,
      expected: 'flat shapes',
      effect: 'The Z and M values are not used',
      remedy: 'Nothing to do',
    });
  }
  if (view.byteLength > stated) {
    issues.push({
      code: 'shp-extra-bytes',
      severity: 'warning',
      where,
      found: `${view.byteLength} bytes where the header says ${stated}`,
      expected: 'both the same',
      effect: 'The bytes after the stated end are not read',
      remedy: 'Export the layer again if records are missing',
    });
  }
  return { type, end: stated, issues };
}

/** Walks the record headers once: how many there are, refusing lengths that lead nowhere. */
function countRecords(view: DataView, end: number, where: string): number {
  let records = 0;
  let at = 100;
  const cut = view.byteLength < end;
  while (at < end) {
    const stated = at + 8 <= view.byteLength ? view.getInt32(at + 4) * 2 : 0;
    const next = at + 8 + stated;
    if (at + 8 > view.byteLength || (cut && stated >= 4 && next > view.byteLength && next <= end)) {
      refuseShp(
        'shp-truncated',
        where,
        `${view.byteLength} bytes, ${records} whole ${records === 1 ? 'record' : 'records'}, then the file is cut`,
        `${end} bytes by its header`,
        'Copy or download the file again',
      );
    }
    if (stated < 4 || next > end) {
      const found = `a length of ${stated} bytes at byte ${at}`;
      const left = `4 to ${end - at - 8} bytes`;
      refuseShp(
        'shp-record-length',
        `${where} › record ${records + 1}`,
        found,
        left,
        'Export the layer again',
      );
    }
    records++;
    at = next;
  }
  return records;
}

function reports(tallies: Record<'nulls' | 'repairs' | 'numbers' | 'empty', Tally>, where: string): Issue[] {
  const issues: Issue[] = [];
  const add = (
    tally: Tally,
    code: string,
    severity: Issue['severity'],
    expected: string,
    effect: string,
  ): void => {
    if (tally.count === 0) return;
    const found = tallyText(tally, tally.count === 1 ? 'record' : 'records');
    issues.push({
      code,
      severity,
      where,
      found,
      expected,
      effect,
      remedy: 'Look at these records in their own program',
    });
  };
  add(
    tallies.nulls,
    'no-geometry',
    'warning',
    'a shape in every record',
    'Their attributes are kept; they have no place',
  );
  add(
    tallies.empty,
    'ring-too-short',
    'warning',
    'rings of three corners',
    'Their attributes are kept; they have no place',
  );
  add(
    tallies.repairs,
    'ring-repaired',
    'warning',
    'closed rings of three corners',
    'They are used as repaired',
  );
  add(
    tallies.numbers,
    'shp-record-number',
    'note',
    'records numbered from 1',
    'They are used in the order of the file',
  );
  return issues;
}
