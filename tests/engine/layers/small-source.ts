import type { Column, Source } from '../../../src/engine/layers/source.ts';

/** Columns as a reader would give them: numbers with null for blanks, or text. */
export function columnsOf(table: Readonly<Record<string, readonly (number | string | null)[]>>): Column[] {
  return Object.entries(table).map(([name, values]) => {
    if (values.some((value) => typeof value === 'string')) {
      const levels = [...new Set(values.filter((value) => value !== null).map(String))];
      const codes = Int32Array.from(values, (value) => (value === null ? -1 : levels.indexOf(String(value))));
      return { name, kind: 'text', codes, levels };
    }
    return {
      name,
      kind: 'number',
      values: Float64Array.from(values, (value) => (value === null ? NaN : Number(value))),
    };
  });
}

/** A table without places. */
export function table(
  columns: Readonly<Record<string, readonly (number | string | null)[]>>,
  file = 'small.csv',
): Source {
  const records = Object.values(columns)[0]?.length ?? 0;
  return {
    file,
    format: 'csv',
    shape: 'table',
    crs: null,
    records,
    x: new Float64Array(0),
    y: new Float64Array(0),
    rings: [],
    columns: columnsOf(columns),
    ledger: { read: records, used: records, repaired: 0, setAside: {} },
    issues: [],
  };
}
