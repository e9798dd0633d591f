import { type Crs, WGS84 } from '../../engine/geodesy/crs.ts';
import type { Issue } from '../../engine/issue.ts';
import { columnKey } from '../../engine/layers/column-key.ts';
import type { Column, NumberColumn } from '../../engine/layers/source.ts';
import { extentOf, looksLikeDegrees, missingCrs } from '../crs-check.ts';
import { newTally, note, tallyText } from '../tally.ts';

export interface Positions {
  readonly crs: Crs | null;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Rows without a position, by reason. */
  readonly without: Readonly<Record<string, number>>;
  readonly issues: readonly Issue[];
}

const LON = /^(lon|long|lng|londd|lond|gpslon|gpslong|gpslng|wgs84lon|decimallongitude|(gps)?longitude.*)$/;
const LAT = /^(lat|latdd|latd|gpslat|wgs84lat|decimallatitude|(gps)?latitude.*)$/;
const EAST = /^(east|easting|utme|utmx|xutm|utmeasting|easting(m|ft|utm)|eastingmeters|projx)$/;
const NORTH = /^(north|northing|utmn|utmy|yutm|utmnorthing|northing(m|ft|utm)|northingmeters|projy)$/;
const X = /^(x|xcoord|xcoordinate|pointx|coordx)$/;
const Y = /^(y|ycoord|ycoordinate|pointy|coordy)$/;

/** Positions from the first pair of number columns that names itself one; null when the table has no such pair. */
export function findPositions(columns: readonly Column[], where: string, given?: Crs): Positions | null {
  const degrees = pairOf(columns, LON, LAT);
  if (degrees) return fromDegrees(degrees, where);
  const projected = pairOf(columns, EAST, NORTH);
  if (projected) return fromProjected(projected, where, given);
  const bare = pairOf(columns, X, Y);
  if (!bare) return null;
  if (!looksLikeDegrees(extentOf([arrays(bare)]))) return fromProjected(bare, where, given);
  // Whole numbers under x and y are rows and columns of a trial, not places on Earth.
  const whole = bare.every((column) => column.values.every((v) => Number.isNaN(v) || Number.isInteger(v)));
  return whole ? null : fromDegrees(bare, where);
}

type Pair = readonly [NumberColumn, NumberColumn];

function pairOf(columns: readonly Column[], x: RegExp, y: RegExp): Pair | null {
  const find = (pattern: RegExp) =>
    columns.find((c): c is NumberColumn => c.kind === 'number' && pattern.test(columnKey(c.name)));
  const [first, second] = [find(x), find(y)];
  return first && second ? [first, second] : null;
}

function arrays([x, y]: Pair) {
  return { x: x.values, y: y.values };
}

/** Up to one row in twenty may lie outside the globe and loses its position; more, and the columns are not degrees. */
function fromDegrees(pair: Pair, where: string): Positions {
  const { x, y } = arrays(pair);
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
  return { crs: WGS84, ...placed, ...account(placed.x, outside.count, where, issues) };
}

function notDegrees(pair: Pair, where: string, swapped: boolean): Positions {
  const { x, y } = arrays(pair);
  const placed = blankPartial(x, y, () => true);
  const issue: Issue = swapped
    ? {
        code: 'lon-lat-swapped',
        severity: 'error',
        where,
        found: `'${pair[1].name}' beyond 90 degrees, '${pair[0].name}' within`,
        expected: 'latitudes within 90 degrees',
        effect: 'The points have no place on Earth',
        remedy: 'Exchange the names of the two columns',
      }
    : missingCrs(where, `columns '${pair[0].name}' and '${pair[1].name}'`, [arrays(pair)]);
  return { crs: null, ...placed, ...account(placed.x, 0, where, [issue]) };
}

function fromProjected(pair: Pair, where: string, given?: Crs): Positions {
  const { x, y } = arrays(pair);
  const placed = blankPartial(x, y, () => true);
  const found = `columns '${pair[0].name}' and '${pair[1].name}' name no coordinate system`;
  const issues = given ? [] : [missingCrs(where, found, [placed])];
  return { crs: given ?? null, ...placed, ...account(placed.x, 0, where, issues) };
}

/** Both coordinates or neither. */
function blankPartial(x: Float64Array, y: Float64Array, keep: (i: number) => boolean) {
  const [px, py] = [x.slice(), y.slice()];
  for (let i = 0; i < px.length; i++) {
    if (Number.isNaN(px[i]) || Number.isNaN(py[i]) || !keep(i)) px[i] = py[i] = Number.NaN;
  }
  return { x: px, y: py };
}

function account(x: Float64Array, outside: number, where: string, issues: readonly Issue[]) {
  let blank = -outside;
  for (let i = 0; i < x.length; i++) if (Number.isNaN(x[i])) blank++;
  const without: Record<string, number> = {};
  if (blank > 0) without['no-geometry'] = blank;
  if (outside > 0) without['position-out-of-range'] = outside;
  if (blank === 0) return { without, issues };
  const issue: Issue = {
    code: 'no-geometry',
    severity: 'warning',
    where,
    found: `${blank} of ${x.length} records without coordinates`,
    expected: 'coordinates in every record',
    effect: 'These records are set aside: kept, but without a place',
    remedy: 'Nothing to do if the receiver had no fix there',
  };
  return { without, issues: [...issues, issue] };
}
