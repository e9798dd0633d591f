import type { Column, NumberColumn } from '../../engine/layers/source.ts';
import { figureOf } from '../text/figure-text.ts';
import type { TrialRole } from './trial-role.ts';

/** Counts of plants and seeds, in which a lone mark and three digits part thousands. */
const COUNTS: readonly (TrialRole | undefined)[] = ['stand', 'rate'];

/** A column of texts as the figures people mean by them (`80 000`, `32k`), where nearly all are some; null otherwise. */
export function writtenFigures(column: Column, role: TrialRole | undefined): NumberColumn | null {
  if (column.kind === 'number') return null;
  const figures = column.levels.map((level) => figureOf(level, COUNTS.includes(role)) ?? Number.NaN);
  const values = Float64Array.from(column.codes, (code) => (code < 0 ? Number.NaN : figures[code]));
  let known = 0;
  let read = 0;
  for (let i = 0; i < values.length; i++) {
    if (column.codes[i] >= 0) known++;
    if (Number.isFinite(values[i])) read++;
    else values[i] = Number.NaN;
  }
  // As many as a column of plain numbers must have.
  return read > 0 && read >= 0.95 * known ? { name: column.name, kind: 'number', values } : null;
}
