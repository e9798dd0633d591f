import { type Crs, WGS84 } from '../../engine/geodesy/crs.ts';
import type { Issue } from '../../engine/issue.ts';
import type { Source } from '../../engine/layers/source.ts';
import { uniqueNames } from '../column-names.ts';
import { extentOf, looksLikeDegrees, type Places } from '../crs-check.ts';
import { emptyLayer } from '../empty-layer.ts';
import type { FileBytes } from '../file-bytes.ts';
import { type Format, oneLayer, type ReadOptions } from '../format.ts';
import { newTally, note, tallyText } from '../tally.ts';
import { plainText } from '../text/decode.ts';
import { crsOfMember } from './crs-member.ts';
import { type Feature, featuresOf, parseGeojson } from './features.ts';
import { propertyColumns } from './properties.ts';
import { refuseJson } from './scan.ts';
import { type Shape, shapeOf } from './shape.ts';

export const geojson: Format = {
  id: 'geojson',
  title: 'GeoJSON',
  extensions: ['geojson', 'json'],
  recognises: ({ bytes }) => {
    const first = plainText(bytes.subarray(0, 4096)).bytes.find((byte) => byte > 32);
    return first === 0x7b || first === 0x5b;
  },
  read: ([file], options) => oneLayer(readGeojson(file, options)),
};

/**
 * A GeoJSON feature collection, feature or bare geometry (RFC 7946; a legacy `crs` member is honoured).
 * Polygons win over points in a mixed file; what is not used is set aside with its reason. Throws a Refusal.
 */
export function readGeojson(file: FileBytes, options: ReadOptions = {}): Source {
  const root = parseGeojson(file);
  const features = featuresOf(root, file.name);
  const shapes = features.map((feature) => shapeOf(feature.geometry));
  const polygons = shapes.some((shape) => shape.kind === 'polygon');
  const points = !polygons && shapes.some((shape) => shape.kind === 'point');
  const wanted = polygons ? 'polygon' : 'point';
  const rows: { shape: Shape; feature: Feature }[] = [];
  const aside = new Map<string, ReturnType<typeof newTally>>();
  shapes.forEach((shape, index) => {
    if (shape.kind === 'none' || shape.kind === wanted) rows.push({ shape, feature: features[index] });
    else {
      const reason = shape.kind === 'aside' ? shape.reason : 'geometry-not-used';
      const tally = aside.get(reason) ?? newTally();
      aside.set(reason, tally);
      note(tally, `${index + 1} (${shape.kind === 'aside' ? shape.found : shape.kind})`);
    }
  });
  if (rows.length === 0 && features.length > 0) {
    const found = [...aside.values()].map((tally) => tallyText(tally, 'features')).join('; ');
    refuseJson('geojson-no-shapes', file.name, found, 'polygons or points', 'Export polygons or points');
  }
  const placed = placeRows(rows, file.name);
  const crs = settleCrs(root, file.name, polygons ? placed.rings.flatMap((r) => r ?? []) : [placed], options);
  const setAside: Record<string, number> = { ...placed.without };
  for (const [reason, tally] of aside) setAside[reason] = tally.count;
  const lost = Object.values(placed.without).reduce((sum, n) => sum + n, 0);
  const columns = propertyColumns(rows.map(({ feature }) => feature.properties));
  const { names, issues: renamed } = uniqueNames(
    columns.map((column) => column.name),
    file.name,
  );
  const empty = features.length === 0 ? [emptyLayer(file.name, 'features')] : [];
  return {
    file: file.name,
    format: 'geojson',
    shape: polygons || features.length === 0 ? 'polygons' : points ? 'points' : 'table',
    crs,
    records: rows.length,
    x: points ? placed.x : new Float64Array(0),
    y: points ? placed.y : new Float64Array(0),
    rings: polygons ? placed.rings : [],
    columns: columns.map((column, i) => ({ ...column, name: names[i] })),
    ledger: {
      read: features.length,
      used: rows.length - placed.repaired - lost,
      repaired: placed.repaired,
      setAside,
    },
    issues: [
      ...placed.issues,
      ...[...aside].map(([reason, tally]) => asideIssue(reason, file.name, tallyText(tally, 'features'))),
      ...renamed,
      ...empty,
    ],
  };
}

function placeRows(rows: readonly { shape: Shape }[], where: string) {
  const x = new Float64Array(rows.length).fill(Number.NaN);
  const y = new Float64Array(rows.length).fill(Number.NaN);
  const [nulls, short, repairs] = [newTally(), newTally(), newTally()];
  const rings = rows.map(({ shape }, row) => {
    if (shape.kind === 'none') note(nulls, row + 1);
    if (shape.kind === 'point') {
      x[row] = shape.x;
      y[row] = shape.y;
      if (shape.repair !== '') note(repairs, `${row + 1} (${shape.repair})`);
    }
    if (shape.kind !== 'polygon') return null;
    if (shape.rings === null) note(short, row + 1);
    else if (shape.repair !== '') note(repairs, `${row + 1} (${shape.repair})`);
    return shape.rings;
  });
  const without: Record<string, number> = {};
  if (nulls.count > 0) without['no-geometry'] = nulls.count;
  if (short.count > 0) without['ring-too-short'] = short.count;
  const issues: Issue[] = [];
  const add = (tally: typeof nulls, code: string, expected: string, effect: string): void => {
    if (tally.count === 0) return;
    const remedy = 'Look at these records in their own program';
    issues.push({
      code,
      severity: 'warning',
      where,
      found: tallyText(tally, 'records'),
      expected,
      effect,
      remedy,
    });
  };
  add(nulls, 'no-geometry', 'a geometry in every feature', 'Their attributes are kept; they have no place');
  add(short, 'ring-too-short', 'rings of three corners', 'Their attributes are kept; they have no place');
  add(repairs, 'geometry-repaired', 'closed rings of three corners', 'They are used as repaired');
  return { x, y, rings, without, repaired: repairs.count, issues };
}

/** Numbers beyond the globe in what should be degrees are refused unless the caller knows the system. */
function settleCrs(root: Record<string, unknown>, where: string, places: Places, options: ReadOptions): Crs {
  const crs = crsOfMember(root.crs, where);
  const degrees = crs.proj4 === null || crs.proj4.includes('+proj=longlat');
  const extent = extentOf(places);
  if (!degrees || extent === null || looksLikeDegrees(extent)) return crs;
  if (options.crs && crs === WGS84) return options.crs;
  const found = `coordinates from ${extent.west}, ${extent.south} to ${extent.east}, ${extent.north}`;
  const expected = 'longitudes within 180 and latitudes within 90 degrees';
  return refuseJson(
    'geojson-out-of-range',
    where,
    found,
    expected,
    'Export in WGS 84 degrees, or give the system',
  );
}

function asideIssue(code: string, where: string, found: string): Issue {
  return {
    code,
    severity: 'warning',
    where,
    found,
    expected: code === 'geometry-not-used' ? 'one kind of shape: polygons, or points' : 'whole geometries',
    effect: 'They are set aside',
    remedy: 'Export them apart if they matter',
  };
}
