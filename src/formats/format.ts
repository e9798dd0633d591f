import type { Crs } from '../engine/geodesy/crs.ts';
import type { Source } from '../engine/layers/source.ts';
import type { FileBytes } from './file-bytes.ts';

export interface ReadOptions {
  /** Used only where the file itself does not say. */
  readonly crs?: Crs;
  /** Names for a text table that has no header row (published soil tables come so). */
  readonly columns?: readonly string[];
}

/** One readable format. `read` throws a Refusal for a file it cannot take whole. */
export interface Format {
  readonly id: string;
  readonly title: string;
  readonly extensions: readonly string[];
  /** By content; the extension only decides between formats that both recognise a file. */
  recognises(file: FileBytes): boolean;
  /** `files` are the members of one layer: a single file, or .shp with its sidecars. */
  read(files: readonly FileBytes[], options: ReadOptions): Source;
}

/** Lower-case extension without the dot, '' when there is none. */
export function extensionOf(name: string): string {
  const base = name.slice(Math.max(name.lastIndexOf('/'), name.lastIndexOf('\\')) + 1);
  const dot = base.lastIndexOf('.');
  return dot <= 0 ? '' : base.slice(dot + 1).toLowerCase();
}
