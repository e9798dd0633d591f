import type { Box } from '../engine/geodesy/box.ts';
import type { Crs } from '../engine/geodesy/crs.ts';
import type { Issue } from '../engine/issue.ts';
import type { Source } from '../engine/layers/source.ts';
import type { FileBytes } from './file-bytes.ts';

export interface ReadOptions {
  /** Used only where the file itself does not say, or says what cannot be read or its numbers contradict. */
  readonly crs?: Crs;
  /** A layer on NAD27 is placed by its mean shift, good to some ten metres. Refused otherwise. */
  readonly acceptNad27?: boolean;
  /** The longitudes and latitudes of a file of shapes have changed places: they are exchanged in reading. */
  readonly swapLonLat?: boolean;
  /** Names for a text table that has no header row (published soil tables come so). */
  readonly columns?: readonly string[];
  /** Line (from 1) of a text table that holds the column names, where lines above it are not part of the table. */
  readonly headerLine?: number;
  /** By column of a text table: what the comma (or point) in its numbers is, where 32,000 does not tell. */
  readonly commas?: Readonly<Record<string, 'thousands' | 'decimals'>>;
  /** Code page of the text, as a .cpg names it (`UTF-8`, `1252`, `850`). Used only where the file itself does not say. */
  readonly encoding?: string;
  /** Of a shapefile whose table has another number of rows than there are shapes: row n is that of shape n as far as both go. Refused otherwise. */
  readonly unmatchedRows?: 'in-order';
  /** Of a raster: the part of the ground that is wanted, degrees on WGS 84. Cells well outside it need not be read. */
  readonly window?: Box;
}

/** What one file holds: its layers, and what could not be made a layer. A layer's own issues are in the layer. */
export interface Reading {
  readonly sources: readonly Source[];
  readonly issues: readonly Issue[];
}

/** The reading of a file of one layer. */
export function oneLayer(source: Source): Reading {
  return { sources: [source], issues: [] };
}

/** One readable format. `read` throws a Refusal for a file it cannot take at all. */
export interface Format {
  readonly id: string;
  readonly title: string;
  readonly extensions: readonly string[];
  /** By content; the extension only decides between formats that both recognise a file. */
  recognises(file: FileBytes): boolean;
  /**
   * `files` are those that belong together: a single file, .shp with its sidecars, a task file with its grids. A file of one layer gives that layer under
   * the file's own name; where there are several they are called `file › layer`.
   */
  read(files: readonly FileBytes[], options: ReadOptions): Reading | Promise<Reading>;
}

/** Lower-case extension without the dot, '' when there is none. */
export function extensionOf(name: string): string {
  const base = name.slice(Math.max(name.lastIndexOf('/'), name.lastIndexOf('\\')) + 1);
  const dot = base.lastIndexOf('.');
  return dot <= 0 ? '' : base.slice(dot + 1).toLowerCase();
}
