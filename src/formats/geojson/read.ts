import { type Issue, Refusal } from '../../engine/issue.ts';
import type { Source } from '../../engine/layers/source.ts';
import { uniqueNames } from '../column-names.ts';
import { type Places, type SettledCrs, settleCrs } from '../crs-check.ts';
import { emptyLayer } from '../empty-layer.ts';
import { exchangeAxes } from '../exchange-axes.ts';
import type { FileBytes } from '../file-bytes.ts';
import { type Format, oneLayer, type Reading, type ReadOptions } from '../format.ts';
import { newTally, note, type Tally, tallyText } from '../tally.ts';
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
  read: ([file], options) => readGeojson(file, options),
};

/**
 * A GeoJSON feature collection, feature or bare geometry (RFC 7946; a legacy `crs` member is honoured). A file of polygons and points is two layers; features
 * without a geometry, and those set aside with their reason, are counted with the first. Throws a Refusal.
 */
export function readGeojson(file: FileBytes, options: ReadOptions = {}): Reading {
  const root = parseGeojson(file, options.encoding);
  const features = featuresOf(root, file.name);
  const shapes = features.map((feature) => shapeOf(feature.geometry));
  const rows = shapes.map((shape, index): Row => ({ shape, feature: features[index], number: index + 1 }));
  const kinds = (['polygon', 'point'] as const).filter((kind) => shapes.some((shape) => shape.kind === kind));
  const setAside = tallyAside(rows);
  const kept = rows.filter(({ shape }) => shape.kind !== 'aside');
  if (kept.length === 0 && features.length > 0) {
    const found = [...setAside.values()].map((tally) => tallyText(tally, 'features')).join('; ');
    refuseJson('geojson-no-shapes', file.name, found, 'polygons or points', 'Export polygons or points');
  }
  if (kinds.length < 2) {
    const shape = kinds[0] === 'point' ? 'points' : kinds[0] || features.length === 0 ? 'polygons' : 'table';
    return oneLayer(layerOf(file.name, shape, kept, setAside, root, options));
  }
  const points = kept.filter(({ shape }) => shape.kind === 'point');
  const others = kept.filter(({ shape }) => shape.kind !== 'point');
  return {
    sources: [
      layerOf(`${file.name} › polygons`, 'polygons', others, setAside, root, options),
      layerOf(`${file.name} › points`, 'points', points, new Map(), root, options),
    ],
    issues: [],
  };
}

interface Row {
  readonly shape: Shape;
  readonly feature: Feature;
  /** In the file, from 1. */
  readonly number: number;
}

/** What is set aside, by reason. */
function tallyAside(rows: readonly Row[]): Map<string, Tally> {
  const tallies = new Map<string, Tally>();
  for (const { shape, number } of rows) {
    if (shape.kind !== 'aside') continue;
    const tally = tallies.get(shape.reason) ?? newTally();
    tallies.set(shape.reason, tally);
    note(tally, `${number} (${shape.found})`);
  }
  return tallies;
}

function layerOf(
  name: string,
  shape: 'polygons' | 'points' | 'table',
  rows: readonly Row[],
  aside: ReadonlyMap<string, Tally>,
  root: Record<string, unknown>,
  options: ReadOptions,
): Source {
  const asRead = placeRows(rows, name);
  const placed = options.swapLonLat ? exchangeAxes(asRead) : asRead;
  const places = shape === 'polygons' ? placed.rings.flatMap((r) => r ?? []) : [placed];
  const settled = placedIn(root, name, places, options);
  const setAside: Record<string, number> = { ...placed.without };
  for (const [reason, tally] of aside) setAside[reason] = tally.count;
  const lost = Object.values(placed.without).reduce((sum, n) => sum + n, 0);
  const left = Object.values(setAside).reduce((sum, n) => sum + n, 0) - lost;
  const columns = propertyColumns(rows.map(({ feature }) => feature.properties));
  const { names, issues: renamed } = uniqueNames(
    columns.map((column) => column.name),
    name,
  );
  const empty = rows.length + left === 0 ? [emptyLayer(name, 'features')] : [];
  return {
    file: name,
    format: 'geojson',
    shape,
    crs: settled.crs,
    records: rows.length,
    x: shape === 'points' ? placed.x : new Float64Array(0),
    y: shape === 'points' ? placed.y : new Float64Array(0),
    rings: shape === 'polygons' ? placed.rings : [],
    columns: columns.map((column, i) => ({ ...column, name: names[i] })),
    ledger: {
      read: rows.length + left,
      used: rows.length - placed.repaired - lost,
      repaired: placed.repaired,
      setAside,
    },
    issues: [
      ...settled.issues,
      ...placed.issues,
      ...[...aside].map(([reason, tally]) => asideIssue(reason, name, tallyText(tally, 'features'))),
      ...renamed,
      ...empty,
    ],
  };
}

function placeRows(rows: readonly Row[], where: string) {
  const x = new Float64Array(rows.length).fill(Number.NaN);
  const y = new Float64Array(rows.length).fill(Number.NaN);
  const [nulls, short, repairs] = [newTally(), newTally(), newTally()];
  const rings = rows.map(({ shape, number }, row) => {
    if (shape.kind === 'none') note(nulls, number);
    if (shape.kind === 'point') {
      x[row] = shape.x;
      y[row] = shape.y;
      if (shape.repair !== '') note(repairs, `${number} (${shape.repair})`);
    }
    if (shape.kind !== 'polygon') return null;
    if (shape.rings === null) note(short, number);
    else if (shape.repair !== '') note(repairs, `${number} (${shape.repair})`);
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
      found: tallyText(tally, tally.count === 1 ? 'feature' : 'features'),
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

/** The system stated or implied where the numbers bear it out, else the one given; refused when there is neither. */
function placedIn(
  root: Record<string, unknown>,
  where: string,
  places: Places,
  options: ReadOptions,
): SettledCrs {
  const implied = root.crs === undefined || root.crs === null;
  const { crs, issues } = settleCrs(crsOfMember(root.crs, where, options), where, '', places, options);
  // What the format only implies is no statement that another would contradict.
  if (crs) return { crs, issues: implied && crs === options.crs ? [] : issues };
  const fatal = issues.find(({ severity }) => severity === 'error') ?? issues[0];
  const beyond = implied && fatal.code === 'crs-contradicts-coordinates';
  throw new Refusal(beyond ? { ...fatal, code: 'geojson-out-of-range' } : fatal);
}

function asideIssue(code: string, where: string, found: string): Issue {
  return {
    code,
    severity: 'warning',
    where,
    found,
    expected: code === 'geometry-not-used' ? 'polygons, or single points' : 'whole geometries',
    effect: 'They are set aside',
    remedy: 'Export them apart if they matter',
  };
}
