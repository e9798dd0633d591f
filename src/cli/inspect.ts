import { crsToLonLat, WGS84 } from '../engine/geodesy/crs.ts';
import { guessYear, guessYieldColumn } from '../engine/harvest/guess-yield-column.ts';
import { type Issue, issueText } from '../engine/issue.ts';
import { guessUnit } from '../engine/layers/guess-unit.ts';
import type { Column, Source } from '../engine/layers/source.ts';
import { median } from '../engine/math/median.ts';
import { spreadOf } from '../engine/math/weighted.ts';
import { readFiles } from '../formats/registry.ts';
import { figure } from '../run/figures.ts';
import { loadAll } from './disk.ts';
import { readingInThread } from './reading-worker.ts';
import { DONE, hasError, tell, tellIssues, tellJson, WRONG_INPUT } from './tell.ts';

/** Positions this far from the median, degrees, are of no one field. */
const FAR_DEGREES = 1;

/** `eachacre inspect FILE…`: what is in the files. */
export async function inspect(
  paths: readonly string[],
  options: { json?: boolean; crop: string },
): Promise<number> {
  const files = loadAll(paths, (path) => path);
  const read = await readFiles(files, {}, readingInThread());
  const issues: Issue[] = [...read.issues];
  const layers = read.sources.map((source) => layerReport(source, options.crop));
  const found = read.sources.map((source) => [...source.issues, ...oddPoints(source, options.crop)]);
  if (options.json) {
    tellJson({ layers, issues: [...issues, ...found.flat()] });
  } else {
    for (const [k, layer] of layers.entries()) tell(layerText(layer, found[k]));
    tellIssues(issues);
  }
  return hasError([...issues, ...found.flat()]) ? WRONG_INPUT : DONE;
}

/** Positions far from the rest and yields out of all proportion: what a look at the extremes of a file should tell. */
function oddPoints(source: Source, crop: string): Issue[] {
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
        'They will be set aside unless the plan says otherwise',
      );
  }
  return issues;
}

function layerReport(source: Source, crop: string) {
  const guess = source.shape === 'points' ? guessYieldColumn(source, crop) : null;
  return {
    file: source.file,
    format: source.format,
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
  };
}

type LayerReport = ReturnType<typeof layerReport>;

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
    unit: guessUnit(column.name),
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
  for (const ring of source.rings.flatMap((rings) => rings ?? [])) {
    take(
      ring.filter((_, k) => k % 2 === 0),
      ring.filter((_, k) => k % 2 === 1),
    );
  }
  return west <= east ? { unit: source.crs ? 'degrees' : 'as in the file', west, south, east, north } : null;
}

function layerText(layer: LayerReport, issues: readonly Issue[]): string {
  const lines = [
    `${layer.file}: ${figure.count(layer.records.read, layer.shape === 'table' ? 'row' : layer.shape.slice(0, -1))} (${layer.format})`,
  ];
  const aside = Object.entries(layer.records.setAside).map(([reason, n]) => `${n} ${reason}`);
  if (layer.records.repaired || aside.length)
    lines.push(
      `  used ${layer.records.used}, repaired ${layer.records.repaired}, set aside ${aside.join(', ') || 'none'}`,
    );
  if (layer.shape !== 'table')
    lines.push(`  coordinate system: ${layer.crs ? `${layer.crs.name} (${layer.crs.code})` : 'not stated'}`);
  if (layer.extent) {
    const { west, south, east, north, unit } = layer.extent;
    const digits = unit === 'degrees' ? 6 : 2;
    lines.push(
      `  extent (${unit}): ${west.toFixed(digits)} ${south.toFixed(digits)} to ${east.toFixed(digits)} ${north.toFixed(digits)}`,
    );
  }
  if (layer.yield)
    lines.push(`  yield: ${layer.yield.because}${layer.yield.year ? `, ${layer.yield.year}` : ''}`);
  for (const column of layer.columns) {
    const about =
      column.kind === 'text'
        ? `text, ${column.distinct} distinct: ${column.examples.join(' | ')}`
        : column.min === undefined || column.mean === undefined || column.max === undefined
          ? 'no numbers'
          : `${plain(column.min)} to ${plain(column.max)}, mean ${plain(column.mean)}${column.unit ? ` ${column.unit}` : ''}`;
    lines.push(`    ${column.name.padEnd(18)} ${about}`);
  }
  for (const issue of issues) lines.push(`  ${issue.severity}: ${issueText(issue)} [${issue.code}]`);
  return lines.join('\n');
}

function plain(value: number): string {
  return String(Number(value.toPrecision(7)));
}
