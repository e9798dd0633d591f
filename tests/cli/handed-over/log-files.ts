import type { YieldRecord } from '../../../sample-fields/generator/monitor.ts';
import type { FileBytes } from '../../../src/formats/file-bytes.ts';
import { dbfFile, pointContent, shpFile, shxFile } from '../../formats/small-files.ts';
import { type GridSystem, inSystem } from './grid-systems.ts';
import type { LogColumn } from './log-words.ts';

export interface TextClothes {
  readonly separator: ',' | ';' | '\t';
  readonly decimal: '.' | ',';
  readonly encoding: 'utf-8' | 'utf-16le' | 'latin1';
  readonly preamble: readonly string[];
  readonly unitsRow: boolean;
}

/** A log as a table of text. */
export function textLog(
  name: string,
  records: readonly YieldRecord[],
  columns: readonly LogColumn[],
  clothes: TextClothes,
): FileBytes {
  const { separator, decimal, encoding, preamble, unitsRow } = clothes;
  const lines = [...preamble, columns.map((column) => column.name).join(separator)];
  if (unitsRow) lines.push(columns.map((column) => column.unit).join(separator));
  records.forEach((record, k) => {
    lines.push(columns.map((column) => cell(column, record, k).replace('.', decimal)).join(separator));
  });
  return { name, bytes: encoded(`${lines.join('\r\n')}\r\n`, encoding) };
}

function cell({ at, decimals }: LogColumn, record: YieldRecord, k: number): string {
  const value = at(record, k);
  return typeof value === 'string' ? value : value.toFixed(decimals);
}

export function encoded(text: string, encoding: TextClothes['encoding']): Uint8Array {
  if (encoding === 'utf-8') return new TextEncoder().encode(text);
  if (encoding === 'latin1') return Uint8Array.from(text, (letter) => letter.charCodeAt(0));
  const view = new DataView(new ArrayBuffer(2 + 2 * text.length));
  view.setUint16(0, 0xfeff, true);
  for (let i = 0; i < text.length; i++) view.setUint16(2 + 2 * i, text.charCodeAt(i), true);
  return new Uint8Array(view.buffer);
}

/** A log as a shapefile of points; names are cut to 10 characters, as its table holds them. */
export function shapeLog(
  stem: string,
  records: readonly YieldRecord[],
  columns: readonly LogColumn[],
  system: GridSystem,
  withPrj = true,
): FileBytes[] {
  const place = inSystem(system);
  const shp = shpFile(
    1,
    records.map(({ lon, lat }) => pointContent(...place(lon, lat))),
    `${stem}.shp`,
  );
  const width = 14;
  const dbf = dbfFile(
    columns.map(({ name, at }) => [cutName(name), typeof at(records[0], 0) === 'string' ? 'C' : 'N', width]),
    records.map((record, k) =>
      columns.map((column) =>
        typeof column.at(record, k) === 'string'
          ? cell(column, record, k).padEnd(width)
          : cell(column, record, k).padStart(width),
      ),
    ),
    { name: `${stem}.dbf` },
  );
  const prj = { name: `${stem}.prj`, bytes: new TextEncoder().encode(system.prj) };
  return [shp, shxFile(shp, `${stem}.shx`), withDecimals(dbf, columns), ...(withPrj ? [prj] : [])];
}

/** Letters a table of that kind holds: none with accents, no more than 10. */
function cutName(name: string): string {
  return name
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .replace(/%/g, 'pct')
    .replace(/[^A-Za-z0-9]+/g, '_')
    .replace(/_$/, '')
    .slice(0, 10);
}

function withDecimals(dbf: FileBytes, columns: readonly LogColumn[]): FileBytes {
  columns.forEach(({ decimals }, k) => {
    if (dbf.bytes[32 + 32 * k + 11] === 78) dbf.bytes[32 + 32 * k + 17] = decimals;
  });
  return dbf;
}

export function geojsonLog(
  name: string,
  records: readonly YieldRecord[],
  columns: readonly LogColumn[],
): FileBytes {
  const features = records.map((record, k) => ({
    type: 'Feature',
    properties: Object.fromEntries(
      columns.map((column) => {
        const value = column.at(record, k);
        return [column.name, typeof value === 'string' ? value : Number(value.toFixed(column.decimals))];
      }),
    ),
    geometry: { type: 'Point', coordinates: [record.lon, record.lat] },
  }));
  return { name, bytes: new TextEncoder().encode(JSON.stringify({ type: 'FeatureCollection', features })) };
}
