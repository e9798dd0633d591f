import { cellValue, type Source } from './source.ts';

/** Rows where a column holds a text, case and blanks about it ignored; numbers by what they are written as. Null when there is no such column. */
export function rowsWhere(
  source: Source,
  { column: name, equals }: { readonly column: string; readonly equals: string },
): Uint32Array | null {
  const column = source.columns.find((own) => own.name === name);
  if (!column) return null;
  const plain = (text: string) => text.trim().toLowerCase();
  const wanted = plain(equals);
  const rows: number[] = [];
  for (let row = 0; row < source.records; row++) {
    const value = cellValue(column, row);
    if (value !== null && plain(String(value)) === wanted) rows.push(row);
  }
  return Uint32Array.from(rows);
}

/** A point source or table with only some of its rows, in the order given. Its account stays that of the file. */
export function pickRows(source: Source, rows: Uint32Array): Source {
  const pick = (values: Float64Array) => Float64Array.from(rows, (row) => values[row]);
  const points = source.shape === 'points';
  return {
    ...source,
    records: rows.length,
    x: points ? pick(source.x) : source.x,
    y: points ? pick(source.y) : source.y,
    columns: source.columns.map((column) =>
      column.kind === 'number'
        ? { ...column, values: pick(column.values) }
        : {
            ...{ name: column.name, kind: 'text', levels: column.levels },
            codes: Int32Array.from(rows, (row) => column.codes[row]),
          },
    ),
  };
}
