import { Refusal } from '../issue.ts';
import { numberColumn } from './number-column.ts';
import { type Column, cellValue, type Source } from './source.ts';

export interface TableJoin {
  readonly polygonKey: string;
  readonly tableKey: string;
  readonly where: { readonly column: string; readonly equals: string } | null;
}

export interface Joined {
  /** The table's value for each polygon record, NaN where no row has its key. */
  readonly values: Float64Array;
  /** Table rows not used, by reason. */
  readonly setAside: Readonly<Record<string, number>>;
}

/**
 * Look up a column of a table for every polygon by key. Keys are compared as text, numbers by value (a key kept as 1019357.0 in one file and as
 * text in the other is the same); a blank key joins nothing. Where several rows carry a key their mean is taken.
 */
export function joinTable(
  polygons: Source,
  table: Source,
  join: TableJoin,
  column: string,
  effect: string,
): Joined {
  const values = numberColumn(table, column, effect);
  const tableKey = columnNamed(table, join.tableKey, effect);
  const polygonKey = columnNamed(polygons, join.polygonKey, effect);
  const filter = join.where ? columnNamed(table, join.where.column, effect) : null;
  const wanted = new Set<string>();
  for (let k = 0; k < polygons.records; k++) wanted.add(keyText(cellValue(polygonKey, k)));
  wanted.delete('');
  const sums = new Map<string, { sum: number; rows: number }>();
  const setAside: Record<string, number> = {};
  const leave = (reason: string) => {
    setAside[reason] = (setAside[reason] ?? 0) + 1;
  };
  for (let row = 0; row < table.records; row++) {
    const key = keyText(cellValue(tableKey, row));
    if (
      filter &&
      join.where &&
      String(cellValue(filter, row) ?? '')
        .trim()
        .toLowerCase() !== join.where.equals.trim().toLowerCase()
    )
      leave('filtered-out');
    else if (!wanted.has(key)) leave('no-polygon');
    else if (Number.isNaN(values[row])) leave('no-value');
    else {
      const held = sums.get(key) ?? { sum: 0, rows: 0 };
      sums.set(key, { sum: held.sum + values[row], rows: held.rows + 1 });
    }
  }
  const joined = Float64Array.from({ length: polygons.records }, (_, k) => {
    const held = sums.get(keyText(cellValue(polygonKey, k)));
    return held ? held.sum / held.rows : NaN;
  });
  return { values: joined, setAside };
}

function keyText(value: number | string | null): string {
  if (value === null) return '';
  const text = String(value).trim();
  return /^\d+\.0*$/.test(text) ? text.slice(0, text.indexOf('.')) : text;
}

function columnNamed(source: Source, name: string, effect: string): Column {
  const column = source.columns.find((candidate) => candidate.name === name);
  if (column) return column;
  throw new Refusal({
    code: 'column-missing',
    where: source.file,
    found: `no column ${name}`,
    expected: `one of ${source.columns.map((candidate) => candidate.name).join(', ')}`,
    effect,
    remedy: 'Name a column of the file',
  });
}
