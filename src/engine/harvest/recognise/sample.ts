import type { NumberColumn } from '../../layers/source.ts';
import { type Figures, figuresOf } from './figures.ts';

/** Rows looked at in a large file. Enough for percentiles to within a point or so; a million records take no longer than ten thousand. */
const ROWS = 2000;

/** A file seen at some of its rows; what was looked at once is kept. */
export interface Sample {
  readonly rows: Int32Array;
  /** Values at the rows, and at the rows after them (NaN after the last). */
  at(column: NumberColumn): Float64Array;
  after(column: NumberColumn): Float64Array;
  figures(column: NumberColumn): Figures;
}

export function sampleOf(records: number): Sample {
  const rows = sampleRows(records);
  const kept = { at: new Map<NumberColumn, Float64Array>(), after: new Map<NumberColumn, Float64Array>() };
  const figures = new Map<NumberColumn, Figures>();
  const once = <T>(map: Map<NumberColumn, T>, column: NumberColumn, make: () => T): T => {
    const known = map.get(column);
    if (known !== undefined) return known;
    const made = make();
    map.set(column, made);
    return made;
  };
  const values = ({ values: own }: NumberColumn, shift: number) => {
    const taken = new Float64Array(rows.length).fill(NaN);
    for (let k = 0; k < rows.length; k++) if (rows[k] + shift < own.length) taken[k] = own[rows[k] + shift];
    return taken;
  };
  const at = (column: NumberColumn) => once(kept.at, column, () => values(column, 0));
  return {
    rows,
    at,
    after: (column) => once(kept.after, column, () => values(column, 1)),
    figures: (column) => once(figures, column, () => figuresOf(at(column))),
  };
}

/** Rows at a fixed stride, each with a row after it; the stride is odd, so that rows written by turns are met alike. One row alone stands for itself. */
export function sampleRows(records: number): Int32Array {
  const last = Math.max(1, records - 1);
  const stride = Math.max(1, Math.floor(last / ROWS)) | 1;
  return Int32Array.from({ length: records === 0 ? 0 : Math.ceil(last / stride) }, (_, k) => k * stride);
}
