import { type Crs, crsFromEpsg } from '../../engine/geodesy/crs.ts';
import type { Column } from '../../engine/layers/source.ts';

/** Northings between which a zone's S may be the latitude band from 32° to 40° north: those of the band, with room for the curve of its edges. */
const BAND_S = { from: 3_530_000, to: 4_440_000 };

/**
 * The system of a UTM zone written with a hemisphere (`15N`, `UTM 22 S`) or a latitude band (`15T`), on WGS 84. Null where the hemisphere is not said, or an S
 * may be a band too at that northing.
 */
export function utmCrs(zone: string, northing: number): Crs | null {
  const match = /^(?:UTM)?\s*(?:ZONE)?\s*(\d{1,2})\s*([C-HJ-NP-X])$/.exec(zone.trim().toUpperCase());
  if (!match) return null;
  const [, number, letter] = match;
  if (letter === 'S' && northing > BAND_S.from && northing < BAND_S.to) return null;
  const south = letter === 'S' || letter < 'N';
  return Number(number) < 1 || Number(number) > 60
    ? null
    : crsFromEpsg((south ? 32700 : 32600) + Number(number));
}

/** A column of zones as written, row by row ('' where blank). */
export function zonesOf(column: Column, rows: number): (row: number) => string {
  if (column.kind === 'text') return (row) => (column.codes[row] < 0 ? '' : column.levels[column.codes[row]]);
  return (row) => (row < rows && !Number.isNaN(column.values[row]) ? String(column.values[row]) : '');
}
