import { type Crs, WGS84 } from '../../engine/geodesy/crs.ts';
import type { Issue } from '../../engine/issue.ts';
import type { Column } from '../../engine/layers/source.ts';
import { extentOf, groundExtentOf, looksLikeDegrees, missingCrs, swappedIssue } from '../crs-check.ts';
import type { ReadOptions } from '../format.ts';
import { newTally, note, tallyText } from '../tally.ts';
import { degreesColumn } from './degrees-column.ts';
import { account, blankPartial, type Found, type Pair } from './placed.ts';
import { BARE, DEGREES, type NamePair, nameKey, PROJECTED, zoneInName } from './position-names.ts';
import { fromProjected } from './projected-positions.ts';

/** Positions from the first pair of columns that names itself one: degrees as numbers or in words, eastings and northings, or bare x and y. */
export function findPositions(
  columns: readonly Column[],
  rows: number,
  where: string,
  { crs: given, swapLonLat = false }: ReadOptions,
): Found {
  const crs = given && isDegrees(given) ? given : WGS84;
  const degrees = columnsOf(columns, DEGREES, nameKey);
  if (degrees) return fromDegreeColumns(swapLonLat ? [degrees[1], degrees[0]] : degrees, crs, where);
  const projected = numbersOf(
    columnsOf(columns, PROJECTED, (name) => zoneInName(name)?.key ?? nameKey(name)),
  );
  if (projected) return fromProjected(projected, columns, rows, where, given);
  const named = columnsOf(columns, BARE, nameKey);
  const bare = numbersOf(named && swapLonLat ? [named[1], named[0]] : named);
  if (!bare) return { positions: null, issues: [] };
  if (!looksLikeDegrees(extentOf([bare]))) return fromProjected(bare, columns, rows, where, given);
  // Whole numbers under x and y are rows and columns of a trial, not places on Earth.
  const whole = [bare.x, bare.y].every((values) =>
    values.every((v) => Number.isNaN(v) || Number.isInteger(v)),
  );
  return whole ? { positions: null, issues: [] } : fromDegrees(bare, crs, where);
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

/** Degrees of longitude and latitude, on whatever datum. */
function isDegrees({ proj4 }: Crs): boolean {
  return proj4 === null || proj4.startsWith('+proj=longlat');
}

function fromDegreeColumns([x, y]: readonly [Column, Column], crs: Crs, where: string): Found {
  const [lon, lat] = [degreesColumn(x, 'lon', where), degreesColumn(y, 'lat', where)];
  const read = [...lon.issues, ...lat.issues];
  if (!lon.values || !lat.values) return { positions: null, issues: read };
  const found = fromDegrees({ names: [x.name, y.name], x: lon.values, y: lat.values }, crs, where);
  return { ...found, issues: [...read, ...found.issues] };
}

/** Up to one row in twenty may lie outside the globe and loses its position; more, and the columns are not degrees. */
function fromDegrees(pair: Pair, crs: Crs, where: string): Found {
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
  const extent = groundExtentOf([placed]);
  const polar = extent === null ? null : swappedIssue(where, extent);
  if (polar) {
    issues.push({ ...polar, remedy: 'Exchange the names of the two columns' });
    return account(null, placed, outside.count, where, issues);
  }
  return account(crs, placed, outside.count, where, issues);
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
