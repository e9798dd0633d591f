import type { Crs } from '../geodesy/crs.ts';
import type { Ring } from '../geometry/ring.ts';
import type { Issue } from '../issue.ts';

/** A column of numbers; NaN where the record has none (blank, `****`, N/A): never zero. */
export interface NumberColumn {
  readonly name: string;
  readonly kind: 'number';
  /** As the file states it, in its own words; absent where it does not. */
  readonly unit?: string;
  readonly values: Float64Array;
}

/** A column of text, coded: `levels[codes[i]]`, or no value where the code is −1. */
export interface TextColumn {
  readonly name: string;
  readonly kind: 'text';
  readonly codes: Int32Array;
  readonly levels: readonly string[];
  /** Where the texts lie in the file, for a reader that can do without a million strings. Absent once they are coded, or where they never lay there. */
  readonly places?: TextPlaces | undefined;
}

/** Record r has the text in bytes[starts[r], ends[r]): none where its end is −1, one with doubled quotes where it is less. Letters are in the encoding of the file. */
export interface TextPlaces {
  readonly bytes: Uint8Array;
  readonly starts: Int32Array;
  readonly ends: Int32Array;
}

export type Column = NumberColumn | TextColumn;

/** The account of a file: `read = used + repaired + Σ setAside`; it always closes. */
export interface SourceLedger {
  readonly read: number;
  /** Records taken as they stand. */
  readonly used: number;
  /** Records taken after a stated repair. */
  readonly repaired: number;
  /** Records kept but not used, by reason (kebab-case). */
  readonly setAside: Readonly<Record<string, number>>;
}

/** How the pixels of a raster lie: row 0 first, each row from column 0. Its values are the source's columns, one a band, one record a pixel. */
export interface Raster {
  readonly width: number;
  readonly height: number;
  /**
   * From pixel corners (column, row; the middle of the first pixel is 0.5, 0.5) to coordinates: x = a·column + b·row + c, y = d·column + e·row + f.
   * South-up and rotated rasters are of this form too.
   */
  readonly transform: readonly [a: number, b: number, c: number, d: number, e: number, f: number];
}

/**
 * One layer of one file, read strictly: `records` rows of attributes with a point, a polygon or nothing each, or the pixels of a raster.
 * Coordinates are those of the file, in `crs` (null when the file does not say).
 */
export interface Source {
  /** As handed over; a member of a zip is `yield.zip › north.shp`. */
  readonly file: string;
  /** Id of the format that read it. */
  readonly format: string;
  readonly shape: 'points' | 'polygons' | 'raster' | 'table';
  readonly crs: Crs | null;
  readonly records: number;
  /** Points: one pair a record, NaN where the record has no position. Empty otherwise. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Polygons: the rings of each record as read (not yet nested), null where it has none. Empty otherwise. */
  readonly rings: readonly (readonly Ring[] | null)[];
  /** Of a raster only. */
  readonly raster?: Raster;
  readonly columns: readonly Column[];
  readonly ledger: SourceLedger;
  readonly issues: readonly Issue[];
}

/** The value of a column at a record, for showing: a number, a text, or null when not known. */
export function cellValue(column: Column, record: number): number | string | null {
  if (column.kind === 'text') {
    const code = column.codes[record];
    return code < 0 ? null : column.levels[code];
  }
  const value = column.values[record];
  return Number.isNaN(value) ? null : value;
}
