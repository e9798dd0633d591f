import type { Crs } from '../engine/geodesy/crs.ts';
import type { Issue } from '../engine/issue.ts';
import type { Source } from '../engine/layers/source.ts';
import type { FileBytes } from './file-bytes.ts';

export interface ReadOptions {
  /** Used only where the file itself does not say. */
  readonly crs?: Crs;
  /** Names for a text table that has no header row (published soil tables come so). */
  readonly columns?: readonly string[];
  /** Of a raster: the part of the ground that is wanted. Cells well outside it need not be read. */
  readonly window?: LonLatBox;
}

/** Degrees on WGS 84. */
export interface LonLatBox {
  readonly west: number;
  readonly south: number;
  readonly east: number;
  readonly north: number;
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
