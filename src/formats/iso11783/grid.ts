import { WGS84 } from '../../engine/geodesy/crs.ts';
import type { Issue } from '../../engine/issue.ts';
import type { Column, Source } from '../../engine/layers/source.ts';
import { uniqueNames } from '../column-names.ts';
import { decimalIn } from '../text/decimal.ts';
import type { XmlElement } from '../xml/read-xml.ts';
import { attribute } from '../xml/tree.ts';
import { codeColumns, valueColumns } from './grid-cells.ts';
import { gridLayout } from './grid-layout.ts';
import { isoIssue, refuseIso } from './iso-refusal.ts';
import type { TaskData } from './task-data.ts';
import type { Zone } from './zones.ts';

/**
 * A grid of a task (GRD) as a raster in WGS 84: row 0 is the southern row, column 0 the western. Type 1 gives a zone code a
 * cell and so the zone's rates and products; type 2 gives a value a cell for each thing its zone asks for, in that order.
 * Throws a Refusal where file, size, codes or values contradict the task.
 */
export function readGrid(grid: XmlElement, zones: readonly Zone[], data: TaskData, file: string): Source {
  const where = `${file} › line ${grid.line}`;
  const raster = gridLayout(grid, where);
  const cells = raster.width * raster.height;
  const type = attribute(grid, 'I');
  if (type !== '1' && type !== '2')
    refuseIso('iso-grid-type', where, `type '${type.slice(0, 20)}'`, '1 or 2');
  const zone = type === '2' ? zoneOfGrid(grid, zones, where) : null;
  const { bytes, issues } = binaryOf(grid, data, where);
  const size = zone ? 4 * zone.values.length * cells : cells;
  if (bytes.length !== size) {
    const each = zone ? ` × ${zone.values.length} × 4 bytes` : '';
    refuseIso(
      'iso-grid-size',
      where,
      `${bytes.length} bytes in ${attribute(grid, 'G')}.bin`,
      `${size}: ${raster.height} rows × ${raster.width} columns${each}`,
    );
  }
  const columns = zone
    ? valueColumns(bytes, zone, raster.width, where)
    : codeColumns(bytes, zones, raster.width, where);
  const empty = cellsWithout(columns, cells);
  const { names, issues: renamed } = uniqueNames(
    columns.map(({ name }) => name),
    file,
  );
  return {
    file,
    format: 'iso11783',
    shape: 'raster',
    crs: WGS84,
    records: cells,
    x: new Float64Array(0),
    y: new Float64Array(0),
    rings: [],
    raster,
    columns: columns.map((column, i) => ({ ...column, name: names[i] })),
    ledger: {
      read: cells,
      used: cells - empty,
      repaired: 0,
      setAside: empty > 0 ? { 'no-value': empty } : {},
    },
    issues: [...issues, ...renamed],
  };
}

function binaryOf(grid: XmlElement, data: TaskData, where: string): { bytes: Uint8Array; issues: Issue[] } {
  const name = attribute(grid, 'G');
  const binary = name === '' ? null : data.member(`${name}.bin`);
  if (!binary) {
    refuseIso(
      'iso-grid-missing',
      where,
      `no ${name === '' ? 'file name' : `${name.slice(0, 40)}.bin`}`,
      'the grid’s file beside the task file',
    );
  }
  const stated = attribute(grid, 'H');
  if (stated === '' || decimalIn(stated) === binary.bytes.length) return { bytes: binary.bytes, issues: [] };
  const issue = isoIssue(
    'iso-grid-length-stated',
    'warning',
    where,
    `${binary.bytes.length} bytes in ${name}.bin`,
    `${stated.slice(0, 30)}, as the task file states`,
    'The file is used if it fits rows and columns',
  );
  return { bytes: binary.bytes, issues: [issue] };
}

/** The zone whose values a grid of type 2 holds; a task of one zone need not name it. */
function zoneOfGrid(grid: XmlElement, zones: readonly Zone[], where: string): Zone {
  const code = attribute(grid, 'J');
  const zone =
    code === '' && zones.length === 1 ? zones[0] : zones.find((own) => own.code === decimalIn(code));
  if (!zone)
    refuseIso('iso-grid-zone', where, `zone '${code.slice(0, 20)}'`, 'the code of a zone of the task');
  if (zone.values.length === 0) {
    refuseIso('iso-grid-zone', where, `zone ${zone.code}, which asks for nothing`, 'one value or more');
  }
  return zone;
}

function cellsWithout(columns: readonly Column[], cells: number): number {
  let empty = 0;
  for (let cell = 0; cell < cells; cell++) {
    if (columns.every((column) => column.kind === 'text' || Number.isNaN(column.values[cell]))) empty++;
  }
  return empty;
}
