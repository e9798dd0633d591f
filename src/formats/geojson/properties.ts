import type { Column } from '../../engine/layers/source.ts';

/**
 * Properties as columns, in the order they first appear. All numbers (or null) make a number column; otherwise
 * text, with booleans as 'true'/'false' and objects as JSON. A numeric string stays text.
 */
export function propertyColumns(rows: readonly (Record<string, unknown> | null)[]): Column[] {
  const values = new Map<string, unknown[]>();
  rows.forEach((row, index) => {
    if (row === null) return;
    for (const name of Object.keys(row)) {
      let column = values.get(name);
      if (!column) {
        column = new Array<unknown>(rows.length).fill(null);
        values.set(name, column);
      }
      column[index] = row[name];
    }
  });
  return [...values].map(([name, column]) => {
    if (column.every((value) => value === null || typeof value === 'number')) {
      const numbers = Float64Array.from(column, (value) => (isFiniteNumber(value) ? value : Number.NaN));
      return { name, kind: 'number', values: numbers };
    }
    return { name, kind: 'text', ...codeTexts(column) };
  });
}

function codeTexts(column: readonly unknown[]): { codes: Int32Array; levels: string[] } {
  const known = new Map<string, number>();
  const codes = Int32Array.from(column, (value) => {
    if (value === null || value === undefined) return -1;
    const text = typeof value === 'object' ? JSON.stringify(value) : String(value);
    const code = known.get(text) ?? known.size;
    known.set(text, code);
    return code;
  });
  return { codes, levels: [...known.keys()] };
}

/** A literal such as 1e999 parses to Infinity: not a measurement. */
function isFiniteNumber(value: unknown): value is number {
  return typeof value === 'number' && Number.isFinite(value);
}
