import { keyText, type TableStep } from '../../engine/layers/join-tables.ts';
import { type Column, cellValue, type Source } from '../../engine/layers/source.ts';

/** What a soil map says of one of its polygons, by column: words and numbers, and no column it says nothing in. */
export type SoilColumns = ReadonlyMap<string, string | number>;

/**
 * All columns of the polygons asked for, and of the table joined straight to them where it holds one row for the map unit. A table of several rows for a unit
 * (its components, say), or of rows picked by what they hold, says nothing of the unit as a whole.
 */
export function soilColumns(
  polygons: Source,
  steps: readonly TableStep[],
  records: readonly number[],
): SoilColumns[] {
  const beside = steps.length > 0 && steps[0].where === null ? rowsOf(polygons, steps[0], records) : null;
  return records.map((record, k) => {
    const says = new Map<string, string | number>();
    const row = beside?.[k] ?? -1;
    if (row >= 0) addRow(says, steps[0].table.columns, row);
    // The polygons' own column outdoes one of the same name in the table.
    addRow(says, polygons.columns, record);
    return says;
  });
}

function addRow(says: Map<string, string | number>, columns: readonly Column[], row: number): void {
  for (const column of columns) {
    const value = cellValue(column, row);
    if (value !== null && value !== '') says.set(column.name, value);
  }
}

/** By record the one row of the table with its key; −1 where there is none, or more than one. */
function rowsOf(
  polygons: Source,
  { table, fromKey, toKey }: TableStep,
  records: readonly number[],
): number[] {
  const from = polygons.columns.find(({ name }) => name === fromKey);
  const to = table.columns.find(({ name }) => name === toKey);
  if (!from || !to) return records.map(() => -1);
  const keys = records.map((record) => keyText(cellValue(from, record)));
  const wanted = new Set(keys.filter((key) => key !== ''));
  const rows = new Map<string, number>();
  for (let row = 0; row < table.records; row++) {
    const key = keyText(cellValue(to, row));
    if (wanted.has(key)) rows.set(key, rows.has(key) ? -1 : row);
  }
  return keys.map((key) => rows.get(key) ?? -1);
}
