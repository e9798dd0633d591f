import { WGS84 } from '../../engine/geodesy/crs.ts';
import type { Issue } from '../../engine/issue.ts';
import type { Column, Raster, Source } from '../../engine/layers/source.ts';
import { uniqueNames } from '../column-names.ts';
import { decimalIn } from '../text/decimal.ts';
import type { XmlElement } from '../xml/read-xml.ts';
import { attribute } from '../xml/tree.ts';
import { isoIssue, refuseIso } from './iso-refusal.ts';
import type { TaskData } from './task-data.ts';
import { zoneColumns } from './zone-columns.ts';
import type { Zone } from './zones.ts';

/** More cells than any field has; each takes some tens of bytes once read. */
const MAX_CELLS = 20_000_000;
/** What logs and some writers put where nothing is known. */
const NO_VALUE = -(2 ** 31);

/**
 * A grid of a task (GRD) as a raster in WGS 84: row 0 is the southern row, column 0 the western. Type 1 gives a zone code a
 * cell and so the zone's rates and products; type 2 gives a value a cell for each thing its zone asks for, in that order.
 * Throws a Refusal where file, size, codes or values contradict the task.
 */
export function readGrid(grid: XmlElement, zones: readonly Zone[], data: TaskData, file: string): Source {
  const where = `${file} › line ${grid.line}`;
  const raster = layoutOf(grid, where);
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

function layoutOf(grid: XmlElement, where: string): Raster {
  const [south, west, high, wide, width, height] = ['A', 'B', 'C', 'D', 'E', 'F'].map((letter) =>
    decimalIn(attribute(grid, letter)),
  );
  if (!(width > 0 && height > 0 && Number.isInteger(width) && Number.isInteger(height))) {
    const found = `${attribute(grid, 'F') || 'no'} rows and ${attribute(grid, 'E') || 'no'} columns`;
    refuseIso('iso-grid-layout', where, found.slice(0, 80), 'whole numbers over 0');
  }
  if (width * height > MAX_CELLS) {
    refuseIso('iso-grid-layout', where, `${height} rows × ${width} columns`, `at most ${MAX_CELLS} cells`);
  }
  const inside =
    high > 0 && wide > 0 && south >= -90 && south + high * height <= 90.000001 && Math.abs(west) <= 180;
  if (!inside) {
    const found = `south '${attribute(grid, 'A').slice(0, 30)}', west '${attribute(grid, 'B').slice(0, 30)}', cells of '${attribute(grid, 'C').slice(0, 30)}' by '${attribute(grid, 'D').slice(0, 30)}'`;
    refuseIso('iso-grid-layout', where, found, 'degrees on the globe and cells larger than nothing');
  }
  return { width, height, transform: [wide, 0, west, 0, high, south] };
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

/** Type 1: a byte a cell. */
function codeColumns(bytes: Uint8Array, zones: readonly Zone[], width: number, where: string): Column[] {
  const index = new Int16Array(256).fill(-1);
  zones.forEach(({ code }, i) => {
    index[code] = i;
  });
  const zoneOf = new Int16Array(bytes.length);
  for (let cell = 0; cell < zoneOf.length; cell++) zoneOf[cell] = index[bytes[cell]];
  const unknown = zoneOf.indexOf(-1);
  if (unknown >= 0) {
    const count = zoneOf.reduce((sum, zone) => sum + (zone < 0 ? 1 : 0), 0);
    const known = zones.map(({ code }) => code).slice(0, 20);
    refuseIso(
      'iso-grid-code',
      `${where} › ${cellName(unknown, width)}`,
      `zone ${bytes[unknown]}, and ${count} cells in all of such zones`,
      `codes of the task: ${known.join(', ') || 'none'}`,
    );
  }
  return zoneColumns(zones, zoneOf);
}

/** Type 2: for each cell a whole number of 32 bits, low byte first, a value. */
function valueColumns(bytes: Uint8Array, zone: Zone, width: number, where: string): Column[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const n = zone.values.length;
  return zone.values.map(({ entity, product }, k) => {
    const values = new Float64Array(bytes.length / 4 / n);
    for (let cell = 0; cell < values.length; cell++) {
      const raw = view.getInt32(4 * (cell * n + k), true);
      if (raw < 0 && raw !== NO_VALUE && !entity.negative) {
        refuseIso(
          'iso-value-range',
          `${where} › ${cellName(cell, width)}`,
          `${raw} for ${entity.label}`,
          'a value from 0 to 2147483647',
        );
      }
      values[cell] = raw === NO_VALUE ? Number.NaN : raw * entity.scale;
    }
    return { name: product ? `${product} ${entity.label}` : entity.label, kind: 'number', values };
  });
}

function cellName(cell: number, width: number): string {
  return `row ${Math.floor(cell / width) + 1}, column ${(cell % width) + 1} from the south-west`;
}

function cellsWithout(columns: readonly Column[], cells: number): number {
  let empty = 0;
  for (let cell = 0; cell < cells; cell++) {
    if (columns.every((column) => column.kind === 'text' || Number.isNaN(column.values[cell]))) empty++;
  }
  return empty;
}
