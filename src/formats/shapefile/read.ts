import { crsFromWkt } from '../../engine/geodesy/crs.ts';
import type { Issue } from '../../engine/issue.ts';
import type { Column, Source } from '../../engine/layers/source.ts';
import { extentOf, type Places, settleCrs } from '../crs-check.ts';
import { emptyLayer } from '../empty-layer.ts';
import { exchangeAxes } from '../exchange-axes.ts';
import type { FileBytes } from '../file-bytes.ts';
import { extensionOf, type Format, oneLayer, type ReadOptions } from '../format.ts';
import { plainText } from '../text/decode.ts';
import { cutShort } from './cut-short.ts';
import { readDbf } from './dbf.ts';
import { readShp, type Shapes } from './shp.ts';
import { refuseShp } from './shp-refusal.ts';
import { shxIssues } from './shx.ts';

export const shapefile: Format = {
  id: 'shapefile',
  title: 'Shapefile',
  extensions: ['shp', 'shx', 'dbf', 'prj', 'cpg'],
  recognises: ({ bytes }) => bytes[0] === 0 && bytes[1] === 0 && bytes[2] === 0x27 && bytes[3] === 0x0a,
  read: (files, options) => oneLayer(readShapefile(files, options)),
};

/**
 * One point or polygon shapefile from its members, counts reconciled across .shp, .shx and .dbf.
 * Row n of the columns is shape n; a null shape keeps its row, a deleted row goes with its shape.
 */
export function readShapefile(files: readonly FileBytes[], options: ReadOptions = {}): Source {
  const member = (extension: string) => files.find((file) => extensionOf(file.name) === extension);
  const shp =
    member('shp') ?? refuseShp('shp-missing', files[0].name, 'no .shp', 'a .shp', 'Hand over all members');
  const asRead = readShp(shp.bytes, shp.name);
  const shapes = options.swapLonLat ? exchangeAxes(asRead) : asRead;
  const issues: Issue[] = [...shapes.issues];
  const shx = member('shx');
  if (shx) issues.push(...shxIssues(shx, shapes));
  const table = readTable(member('dbf'), member('cpg'), shp.name, shapes, options);
  issues.push(...table.issues);
  const cut = cutShort(shp, shapes, shx, member('dbf'));
  if (cut) issues.push(cut.issue);
  // The box is that of all shapes, of lost ones and those set aside too.
  const all = !shapes.cut && [...shapes.without.values()].every((reason) => reason === 'no-geometry');
  if (all) issues.push(...boxIssues(shp, placesOf(asRead)));
  const places = placesOf(shapes);
  const { crs, issues: crsIssues } = readCrs(member('prj'), shp.name, places, options);
  issues.push(...crsIssues);
  if (shapes.records === 0) issues.push(emptyLayer(shp.name, 'records'));
  const kept = keptRecords(shapes, table.deleted);
  const { without, repaired } = account(shapes, table.deleted);
  const lost = Object.values(without).reduce((sum, n) => sum + n, 0);
  return {
    file: shp.name,
    format: 'shapefile',
    shape: shapes.kind,
    crs,
    records: kept === null ? shapes.records : kept.length,
    x: pick(shapes.x, kept),
    y: pick(shapes.y, kept),
    rings:
      kept === null || shapes.kind === 'points'
        ? shapes.rings
        : Array.from(kept, (record) => shapes.rings[record]),
    columns: kept === null ? table.columns : table.columns.map((column) => pickColumn(column, kept)),
    ledger: {
      read: shapes.records + (cut?.lost ?? 0),
      used: shapes.records - lost - repaired,
      repaired,
      setAside: cut && cut.lost > 0 ? { ...without, 'cut-short': cut.lost } : without,
    },
    issues,
  };
}

function placesOf(shapes: Shapes): Places {
  return shapes.kind === 'points' ? [shapes] : shapes.rings.flatMap((rings) => rings ?? []);
}

function readTable(
  dbf: FileBytes | undefined,
  cpg: FileBytes | undefined,
  shp: string,
  shapes: Shapes,
  options: ReadOptions,
) {
  if (!dbf) {
    const issue: Issue = {
      code: 'dbf-missing',
      severity: 'warning',
      where: shp,
      found: 'no .dbf beside it',
      expected: 'a table of attributes',
      effect: 'The shapes are read; there is no column to choose from',
      remedy: 'Hand over the .dbf of the same name too',
    };
    return { columns: [], deleted: new Set<number>(), issues: [issue] };
  }
  const label = cpg ? new TextDecoder().decode(cpg.bytes) : null;
  const wanted = { shapes: shapes.records, cut: shapes.cut, inOrder: options.unmatchedRows === 'in-order' };
  const table = readDbf(dbf.bytes, label, dbf.name, wanted, options.encoding);
  if (table.deleted.size === 0) return table;
  const issue: Issue = {
    code: 'deleted-row',
    severity: 'warning',
    where: dbf.name,
    found: `${table.deleted.size} rows marked as deleted`,
    expected: 'no such rows',
    effect: 'They are set aside with their shapes',
    remedy: 'Nothing to do, or export the layer again to be rid of them',
  };
  return { ...table, issues: [...table.issues, issue] };
}

function readCrs(prj: FileBytes | undefined, where: string, places: Places, options: ReadOptions) {
  if (!prj) return settleCrs(null, where, 'no .prj beside it', places, options);
  const { bytes, decode } = plainText(prj.bytes);
  return settleCrs(crsFromWkt(decode(bytes), prj.name, options), prj.name, '', places, options);
}

/** The box in the header against the shapes; other readers rely on it, this one does not. */
function boxIssues({ name, bytes }: FileBytes, places: Places): Issue[] {
  const extent = extentOf(places);
  if (extent === null) return [];
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const stated = [36, 44, 52, 60].map((at) => view.getFloat64(at, true));
  const real = [extent.west, extent.south, extent.east, extent.north];
  if (real.every((value, i) => Math.abs(value - stated[i]) <= 1e-9 * Math.max(1, Math.abs(value)))) return [];
  const issue: Issue = {
    code: 'shp-box',
    severity: 'warning',
    where: name,
    found: `a box of ${stated.join(', ')} in the header`,
    expected: `${real.join(', ')}, the box of the shapes`,
    effect: 'The shapes are used as they are',
    remedy: 'Export the layer again if shapes seem to be missing',
  };
  return [issue];
}

/** Indices of the records that are not deleted, null when all are kept. */
function keptRecords(shapes: Shapes, deleted: ReadonlySet<number>): Int32Array | null {
  if (deleted.size === 0) return null;
  return Int32Array.from(
    Array.from({ length: shapes.records }, (_, record) => record).filter((record) => !deleted.has(record)),
  );
}

/** Set-aside counts and the number of repaired records, a deleted record counted as deleted only. */
function account(shapes: Shapes, deleted: ReadonlySet<number>) {
  const without: Record<string, number> = {};
  for (const [record, reason] of shapes.without) {
    if (!deleted.has(record)) without[reason] = (without[reason] ?? 0) + 1;
  }
  if (deleted.size > 0) without['deleted-row'] = deleted.size;
  let repaired = 0;
  for (const record of shapes.repaired) if (!deleted.has(record)) repaired++;
  return { without, repaired };
}

function pick(values: Float64Array, kept: Int32Array | null): Float64Array {
  if (kept === null || values.length === 0) return values;
  return Float64Array.from(kept, (record) => values[record]);
}

function pickColumn(column: Column, kept: Int32Array): Column {
  if (column.kind === 'text') {
    const { name, kind, codes, levels } = column;
    return { name, kind, codes: kept.map((record) => codes[record]), levels };
  }
  return { ...column, values: Float64Array.from(kept, (record) => column.values[record]) };
}
