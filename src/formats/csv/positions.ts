import { type Crs, crsToLonLat, WGS84 } from '../../engine/geodesy/crs.ts';
import type { Issue } from '../../engine/issue.ts';
import type { Column } from '../../engine/layers/source.ts';
import { extentOf, looksLikeDegrees, missingCrs, swappedIssue } from '../crs-check.ts';
import { newTally, note, tallyText } from '../tally.ts';
import { degreesColumn } from './degrees-column.ts';
import { BARE, DEGREES, type NamePair, nameKey, PROJECTED, ZONE, zoneInName } from './position-names.ts';
import { utmCrs, zonesOf } from './utm-zone.ts';

export interface Positions {
  readonly crs: Crs | null;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Rows without a position, by reason. */
  readonly without: Readonly<Record<string, number>>;
}

/** No positions where the table has no such columns or none that can be read. */
export interface Found {
  readonly positions: Positions | null;
  readonly issues: readonly Issue[];
}

/** East-west and north-south, as numbers. */
interface Pair {
  readonly names: readonly [string, string];
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** Positions from the first pair of columns that names itself one: degrees as numbers or in words, eastings and northings, or bare x and y. */
export function findPositions(columns: readonly Column[], rows: number, where: string, given?: Crs): Found {
  const degrees = columnsOf(columns, DEGREES, nameKey);
  if (degrees) return fromDegreeColumns(degrees, where);
  const projected = numbersOf(
    columnsOf(columns, PROJECTED, (name) => zoneInName(name)?.key ?? nameKey(name)),
  );
  if (projected) return fromProjected(projected, columns, rows, where, given);
  const bare = numbersOf(columnsOf(columns, BARE, nameKey));
  if (!bare) return { positions: null, issues: [] };
  if (!looksLikeDegrees(extentOf([bare]))) return fromProjected(bare, columns, rows, where, given);
  // Whole numbers under x and y are rows and columns of a trial, not places on Earth.
  const whole = [bare.x, bare.y].every((values) =>
    values.every((v) => Number.isNaN(v) || Number.isInteger(v)),
  );
  return whole ? { positions: null, issues: [] } : fromDegrees(bare, where);
}

function columnsOf(
  columns: readonly Column[],
  pairs: readonly NamePair[],
  key: (name: string) => string,
): readonly [Column, Column] | null {
  // Numbers first: beside `lon` in degrees there may be `longitude` in words.
  for (const kind of ['number', 'any'] as const) {
    const all = columns.filter((column) => kind === 'any' || column.kind === kind);
    for (const pair of pairs) {
      const x = all.find((column) => pair.x.test(key(column.name)));
      const y = all.find((column) => pair.y.test(key(column.name)));
      if (x && y) return [x, y];
    }
  }
  return null;
}

function numbersOf(columns: readonly [Column, Column] | null): Pair | null {
  if (!columns) return null;
  const [x, y] = columns;
  if (x.kind !== 'number' || y.kind !== 'number') return null;
  return { names: [x.name, y.name], x: x.values, y: y.values };
}

function fromDegreeColumns([x, y]: readonly [Column, Column], where: string): Found {
  const [lon, lat] = [degreesColumn(x, 'lon', where), degreesColumn(y, 'lat', where)];
  const read = [...lon.issues, ...lat.issues];
  if (!lon.values || !lat.values) return { positions: null, issues: read };
  const found = fromDegrees({ names: [x.name, y.name], x: lon.values, y: lat.values }, where);
  return { ...found, issues: [...read, ...found.issues] };
}

/** Up to one row in twenty may lie outside the globe and loses its position; more, and the columns are not degrees. */
function fromDegrees(pair: Pair, where: string): Found {
  const { x, y } = pair;
  const outside = newTally();
  let known = 0;
  let swapped = 0;
  for (let i = 0; i < x.length; i++) {
    if (Number.isNaN(x[i]) || Number.isNaN(y[i])) continue;
    known++;
    if (Math.abs(x[i]) <= 180 && Math.abs(y[i]) <= 90) continue;
    note(outside, i + 1);
    if (Math.abs(x[i]) <= 90 && Math.abs(y[i]) <= 180) swapped++;
  }
  if (outside.count > 0.05 * known) return notDegrees(pair, where, swapped > 0.95 * outside.count);
  const placed = blankPartial(x, y, (i) => Math.abs(x[i]) <= 180 && Math.abs(y[i]) <= 90);
  const issues: Issue[] = [];
  if (outside.count > 0) {
    issues.push({
      code: 'position-out-of-range',
      severity: 'warning',
      where,
      found: tallyText(outside, outside.count === 1 ? 'record' : 'records'),
      expected: 'longitudes within 180 and latitudes within 90 degrees',
      effect: 'These records are set aside: kept, but without a place',
      remedy: 'Correct their coordinates if they matter',
    });
  }
  const extent = extentOf([placed]);
  const polar = extent === null ? null : swappedIssue(where, extent);
  if (polar) {
    issues.push({ ...polar, remedy: 'Exchange the names of the two columns' });
    return account(null, placed, outside.count, where, issues);
  }
  return account(WGS84, placed, outside.count, where, issues);
}

function notDegrees(pair: Pair, where: string, swapped: boolean): Found {
  const placed = blankPartial(pair.x, pair.y, () => true);
  const issue: Issue = swapped
    ? {
        code: 'lon-lat-swapped',
        severity: 'error',
        where,
        found: `'${pair.names[1]}' beyond 90 degrees, '${pair.names[0]}' within`,
        expected: 'latitudes within 90 degrees',
        effect: 'The points have no place on Earth',
        remedy: 'Exchange the names of the two columns',
      }
    : missingCrs(where, `columns '${pair.names[0]}' and '${pair.names[1]}'`, [pair]);
  return account(null, placed, 0, where, [issue]);
}

/** Eastings and northings: in the UTM zones the table names, row by row, else in the system given, else in none. */
function fromProjected(
  pair: Pair,
  columns: readonly Column[],
  rows: number,
  where: string,
  given?: Crs,
): Found {
  const placed = blankPartial(pair.x, pair.y, () => true);
  const zones = zonesFor(pair, columns, rows);
  const system = zones && inZones(placed, zones.of, rows);
  if (system?.kind === 'read') {
    const issue: Issue = {
      code: 'utm-datum-assumed',
      severity: 'warning',
      where,
      found: `UTM ${system.zones.length === 1 ? 'zone' : 'zones'} ${system.zones.join(', ')} ${zones?.from} and no datum`,
      expected: 'a datum',
      effect: `The coordinates are taken on WGS 84${system.zones.length === 1 ? '' : ' and brought to longitude and latitude'}`,
      remedy:
        'Nothing to do on WGS 84, NAD83 or ETRS89, which differ by a metre or two; state the coordinate system if it is another',
    };
    return account(system.crs, system, 0, where, [issue]);
  }
  const said = system ? `; UTM zone '${system.zone}' ${zones?.from} does not tell the hemisphere` : '';
  const found = `columns '${pair.names[0]}' and '${pair.names[1]}' name no coordinate system${said}`;
  const issues = given ? [] : [missingCrs(where, found, [placed])];
  return account(given ?? null, placed, 0, where, issues);
}

function zonesFor(pair: Pair, columns: readonly Column[], rows: number) {
  const named = zoneInName(pair.names[0])?.zone ?? zoneInName(pair.names[1])?.zone;
  if (named) return { of: () => named, from: 'in the names of the columns' };
  const column = columns.find(({ name }) => ZONE.test(nameKey(name)));
  if (!column) return null;
  // A bare number under `zone` may be a management zone.
  if (column.kind === 'number' && !nameKey(column.name).includes('utm')) return null;
  return { of: zonesOf(column, rows), from: `in column '${column.name}'` };
}

type InZones =
  | {
      readonly kind: 'read';
      readonly crs: Crs;
      readonly zones: readonly string[];
      readonly x: Float64Array;
      readonly y: Float64Array;
    }
  | { readonly kind: 'unsure'; readonly zone: string };

function inZones(
  { x, y }: Pick<Pair, 'x' | 'y'>,
  zoneOf: (row: number) => string,
  rows: number,
): InZones | null {
  const systems = new Map<string, { crs: Crs; rows: number[] }>();
  for (let row = 0; row < rows; row++) {
    if (Number.isNaN(x[row])) continue;
    const zone = zoneOf(row).trim();
    const known = systems.get(zone);
    if (known && !/s$/i.test(zone)) known.rows.push(row);
    else {
      const crs = utmCrs(zone, y[row]);
      if (!crs) return { kind: 'unsure', zone };
      if (known) known.rows.push(row);
      else systems.set(zone, { crs, rows: [row] });
    }
  }
  const all = [...systems.values()];
  if (all.length === 0) return null;
  const zones = [...systems.keys()];
  if (all.every(({ crs }) => crs.code === all[0].crs.code))
    return { kind: 'read', crs: all[0].crs, zones, x, y };
  const [lon, lat] = [x.slice(), y.slice()];
  for (const { crs, rows: own } of all) {
    const placed = crsToLonLat(
      crs,
      Float64Array.from(own, (row) => x[row]),
      Float64Array.from(own, (row) => y[row]),
    );
    for (const [k, row] of own.entries()) {
      lon[row] = placed.lon[k];
      lat[row] = placed.lat[k];
    }
  }
  return { kind: 'read', crs: WGS84, zones, x: lon, y: lat };
}

/** Both coordinates or neither. */
function blankPartial(x: Float64Array, y: Float64Array, keep: (i: number) => boolean) {
  const [px, py] = [x.slice(), y.slice()];
  for (let i = 0; i < px.length; i++) {
    if (Number.isNaN(px[i]) || Number.isNaN(py[i]) || !keep(i)) px[i] = py[i] = Number.NaN;
  }
  return { x: px, y: py };
}

function account(
  crs: Crs | null,
  { x, y }: Pick<Pair, 'x' | 'y'>,
  outside: number,
  where: string,
  issues: readonly Issue[],
): Found {
  let blank = -outside;
  for (let i = 0; i < x.length; i++) if (Number.isNaN(x[i])) blank++;
  const without: Record<string, number> = {};
  if (blank > 0) without['no-geometry'] = blank;
  if (outside > 0) without['position-out-of-range'] = outside;
  const positions = { crs, x, y, without };
  if (blank === 0) return { positions, issues };
  const issue: Issue = {
    code: 'no-geometry',
    severity: 'warning',
    where,
    found: `${blank} of ${x.length} records without coordinates`,
    expected: 'coordinates in every record',
    effect: 'These records are set aside: kept, but without a place',
    remedy: 'Nothing to do if the receiver had no fix there',
  };
  return { positions, issues: [...issues, issue] };
}
