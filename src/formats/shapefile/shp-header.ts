import type { Issue } from '../../engine/issue.ts';
import { refuseShp } from './shp-refusal.ts';

export interface ShpHeader {
  readonly kind: 'points' | 'several-points' | 'polygons';
  /** Shape type as in every record but the null ones. */
  readonly type: number;
  /** Bytes the file should have. */
  readonly end: number;
  readonly issues: readonly Issue[];
}

const NAMES: Record<number, string> = {
  0: 'null shapes only',
  3: 'lines',
  13: 'lines with Z',
  23: 'lines with M',
  31: 'surfaces (multipatch)',
};

const KINDS: Record<number, ShpHeader['kind']> = {
  1: 'points',
  11: 'points',
  21: 'points',
  8: 'several-points',
  18: 'several-points',
  28: 'several-points',
  5: 'polygons',
  15: 'polygons',
  25: 'polygons',
};

/** The first 100 bytes of a .shp. Throws a Refusal for what is no shapefile of points or polygons. */
export function shpHeader(view: DataView, where: string): ShpHeader {
  if (view.byteLength < 100 || view.getInt32(0) !== 9994) {
    const found = view.byteLength < 100 ? `${view.byteLength} bytes` : 'no shapefile signature';
    refuseShp('shp-header', where, found, 'a 100-byte header beginning with 9994', 'Export the layer again');
  }
  const version = view.getInt32(28, true);
  if (version !== 1000)
    refuseShp('shp-header', where, `version ${version}`, 'version 1000', 'Export the layer again');
  const type = view.getInt32(32, true);
  const kind = KINDS[type];
  if (!kind) {
    const found = NAMES[type] ?? `unknown shape type ${type}`;
    refuseShp('shp-type', where, found, 'points or polygons', 'Export the layer as points or polygons');
  }
  const end = view.getInt32(24) * 2;
  if (end < 100) {
    refuseShp(
      'shp-header',
      where,
      `a stated length of ${end} bytes`,
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
  if (view.byteLength > end)
    issues.push(extraBytes(where, `${view.byteLength} bytes where the header says ${end}`, 'both the same'));
  return { kind, type, end, issues };
}

export function extraBytes(where: string, found: string, expected: string): Issue {
  return {
    code: 'shp-extra-bytes',
    severity: 'warning',
    where,
    found,
    expected,
    effect: 'These bytes are not read',
    remedy: 'Export the layer again if records are missing',
  };
}
