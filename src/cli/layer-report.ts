import { crsToLonLat, WGS84 } from '../engine/geodesy/crs.ts';
import { guessYear, guessYieldColumn, yieldGuess } from '../engine/harvest/guess-yield-column.ts';
import { type Recognition, recogniseColumns } from '../engine/harvest/recognise/recognise-columns.ts';
import { recogniseSource } from '../engine/harvest/recognise/recognise-source.ts';
import { ROLE_WORDS, ROLES } from '../engine/harvest/recognise/role.ts';
import type { Issue } from '../engine/issue.ts';
import { guessUnit } from '../engine/layers/guess-unit.ts';
import type { Column, Source } from '../engine/layers/source.ts';
import { median } from '../engine/math/median.ts';
import { spreadOf } from '../engine/math/weighted.ts';
import { rasterCorners } from '../jobs/source-extent.ts';

/** Positions this far from the median, degrees, are of no one field. */
const FAR_DEGREES = 1;

/** Positions far from the rest and yields out of all proportion: what a look at the extremes of a file should tell. */
export function oddPoints(source: Source, crop: string): Issue[] {
  if (source.shape !== 'points') return [];
  const issues: Issue[] = [];
  const tell = (code: string, found: string, expected: string, effect: string) =>
    issues.push({
      code,
      severity: 'warning',
      where: source.file,
      found,
      expected,
      effect,
      remedy: 'Nothing to do, or take them out of the file',
    });
  const { lon, lat } = crsToLonLat(source.crs ?? WGS84, source.x, source.y);
  const [midLon, midLat] = [median(lon), median(lat)];
  const far = lon.reduce(
    (sum, own, i) =>
      sum + (Math.abs(own - midLon) > FAR_DEGREES || Math.abs(lat[i] - midLat) > FAR_DEGREES ? 1 : 0),
    0,
  );
  if (far > 0)
    tell(
      'points-far-off',
      `${far} points more than ${FAR_DEGREES} degree from the rest`,
      'points of one field',
      'They lie outside any field and will be set aside',
    );
  const guess = guessYieldColumn(source, crop);
  const column = source.columns.find((own) => own.name === guess?.column);
  if (column?.kind === 'number') {
    const limit = 3 * median(column.values.filter((value) => value > 0));
    const high = column.values.reduce((sum, value) => sum + (value > limit ? 1 : 0), 0);
    if (high > 0)
      tell(
        'yield-beyond-range',
        `${high} yields over 3 times the median, the highest ${plain(spreadOf(column.values, column.values).max)}`,
        `yields up to ${plain(limit)}`,
        'Cleaning looks at them when the plan is run',
      );
  }
  return issues;
}

/** A layer as `inspect --json` tells it. */
export function layerReport(source: Source, crop: string) {
  const seen = source.shape === 'points' ? recogniseColumns(source, crop) : null;
  const guess = seen && yieldGuess(seen);
  const { kind, because, confidence } = recogniseSource(source, crop);
  return {
    file: source.file,
    format: source.format,
    kind,
    because,
    confidence,
    raster: source.raster ? { width: source.raster.width, height: source.raster.height } : null,
    shape: source.shape,
    crs: source.crs ? { code: source.crs.code, name: source.crs.name } : null,
    extent: extentOf(source),
    records: {
      read: source.ledger.read,
      used: source.ledger.used,
      repaired: source.ledger.repaired,
      setAside: source.ledger.setAside,
    },
    columns: source.columns.map(columnReport),
    yield: guess
      ? { column: guess.column, unit: guess.unit, because: guess.because, year: guessYear(source) }
      : null,
    readings: seen ? readingsOf(seen) : [],
    questions: seen ? seen.questions : [],
  };
}

/** Columns taken for something, with how sure that is. */
function readingsOf({ columns, candidates }: Recognition) {
  return ROLES.flatMap((role) => {
    const reading = columns[role];
    if (!reading) return [];
    const { confidence, because } = candidates[role].find(({ column }) => column === reading.column) ?? {
      confidence: 1,
      because: '',
    };
    return [{ role: ROLE_WORDS[role], ...reading, confidence, because }];
  });
}

export type LayerReport = ReturnType<typeof layerReport>;

function columnReport(column: Column) {
  if (column.kind === 'text') {
    const known = column.codes.reduce((sum, code) => sum + (code >= 0 ? 1 : 0), 0);
    return {
      name: column.name,
      kind: 'text' as const,
      known,
      distinct: column.levels.length,
      examples: column.levels.slice(0, 3),
    };
  }
  let [known, sum, min, max] = [0, 0, Infinity, -Infinity];
  for (const value of column.values) {
    if (Number.isNaN(value)) continue;
    known++;
    sum += value;
    min = Math.min(min, value);
    max = Math.max(max, value);
  }
  return {
    name: column.name,
    unit: column.unit ?? guessUnit(column.name),
    kind: 'number' as const,
    known,
    ...(known ? { min, mean: sum / known, max } : {}),
  };
}

/** West, south, east, north: in degrees when the coordinate system is known, else in the file's own figures. */
function extentOf(
  source: Source,
): { unit: 'degrees' | 'as in the file'; west: number; south: number; east: number; north: number } | null {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  const reach = (x: Float64Array, y: Float64Array) => {
    for (let i = 0; i < x.length; i++) {
      if (Number.isNaN(x[i])) continue;
      west = Math.min(west, x[i]);
      east = Math.max(east, x[i]);
      south = Math.min(south, y[i]);
      north = Math.max(north, y[i]);
    }
  };
  const place = (x: Float64Array, y: Float64Array) => {
    const { lon, lat } = crsToLonLat(source.crs ?? WGS84, x, y);
    reach(lon, lat);
  };
  const take = source.crs ? place : reach;
  if (source.shape === 'points') take(source.x, source.y);
  if (source.raster) take(...rasterCorners(source.raster));
  for (const ring of source.rings.flatMap((rings) => rings ?? [])) {
    take(
      ring.filter((_, k) => k % 2 === 0),
      ring.filter((_, k) => k % 2 === 1),
    );
  }
  return west <= east ? { unit: source.crs ? 'degrees' : 'as in the file', west, south, east, north } : null;
}

export function plain(value: number): string {
  return String(Number(value.toPrecision(7)));
}
