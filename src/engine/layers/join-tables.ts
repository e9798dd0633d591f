import { Refusal } from '../issue.ts';
import { numberColumn } from './number-column.ts';
import { type Column, cellValue, type Source } from './source.ts';

/** One table of a chain, and how its rows are found and averaged. */
export interface TableStep {
  readonly table: Source;
  /** Column that holds the key in what comes before: the polygons, or the table before. */
  readonly fromKey: string;
  /** Column of this table that holds it. */
  readonly toKey: string;
  /** Only rows where a column holds a text, case ignored. */
  readonly where: { readonly column: string; readonly equals: string } | null;
  /** Column by which several rows of one key are averaged, as component percent; null counts them alike. */
  readonly weight: string | null;
  /** Rows are horizons, counted by how much of the depth they fill: their mean, or the sum of value times thickness (water held, cm/cm to cm). */
  readonly depth: {
    readonly top: string;
    readonly bottom: string;
    readonly from_cm: number;
    readonly to_cm: number;
    readonly how: 'mean' | 'sum';
  } | null;
}

export interface JoinedTables {
  /** The value for each polygon record, NaN where the chain ends without one. */
  readonly values: Float64Array;
  /** By step: table rows not used, by reason. */
  readonly setAside: readonly Readonly<Record<string, number>>[];
}

/**
 * Follow a chain of tables from polygons to a value: map unit → component → horizon, say. `column` is of the last table. Several rows of one key give their
 * mean by weight times the depth they fill, over the rows that have a value: weights of rows without one are left out, not counted as zero. A sum over depth
 * is not known where one of its horizons has no value. Keys are compared as text, numbers by value (1019357.0 in one file and text in the other are the same);
 * a blank key joins nothing. Refuses columns that are not there, and a weight beside a sum.
 */
export function joinTables(
  polygons: Source,
  steps: readonly TableStep[],
  column: string,
  effect: string,
): JoinedTables {
  const tables = steps.map((step, k) => openTable(step, steps[k + 1], effect));
  const last = numberColumn(steps[steps.length - 1].table, column, effect);
  const start = keysOf(columnNamed(polygons, steps[0].fromKey, effect), polygons.records);
  // Down the chain: which rows the polygons ask for. Up again: what they are worth.
  let wanted = new Set(start);
  for (const table of tables) {
    const next = new Set<string>();
    for (let row = 0; row < table.records; row++) {
      if (table.refuse(row)) continue;
      if (table.key[row] === '' || !wanted.has(table.key[row])) table.leave(row, 'no-polygon');
      else if (table.next) next.add(table.next[row]);
    }
    wanted = next;
  }
  let found = new Map<string, number>();
  for (const [k, table] of [...tables.entries()].reverse()) {
    const held = new Map<string, { sum: number; weight: number }>();
    const broken = new Set<string>();
    for (let row = 0; row < table.records; row++) {
      if (table.reasons.has(row)) {
        if (table.reasons.get(row) === 'no-depth') broken.add(table.key[row]);
        continue;
      }
      const value = k === tables.length - 1 ? last[row] : (found.get(table.next?.[row] ?? '') ?? NaN);
      const weight = table.weight(row);
      if (Number.isNaN(value)) {
        table.leave(row, 'no-value');
        broken.add(table.key[row]);
      } else if (!(weight > 0)) table.leave(row, 'no-weight');
      else {
        const { sum, weight: so } = held.get(table.key[row]) ?? { sum: 0, weight: 0 };
        held.set(table.key[row], { sum: sum + weight * value, weight: so + weight });
      }
    }
    if (table.sums) {
      for (let row = 0; row < table.records; row++)
        if (broken.has(table.key[row]) && !table.reasons.has(row)) table.leave(row, 'sum-incomplete');
      for (const key of broken) held.delete(key);
    }
    found = new Map([...held].map(([key, { sum, weight }]) => [key, table.sums ? sum : sum / weight]));
  }
  return {
    values: Float64Array.from(start, (key) => found.get(key) ?? NaN),
    setAside: tables.map((table) => table.count()),
  };
}

interface OpenTable {
  readonly records: number;
  /** By row: its key, and the key into the table after. */
  readonly key: readonly string[];
  readonly next: readonly string[] | null;
  readonly reasons: ReadonlyMap<number, string>;
  /** Its rows add up over depth, where other tables' are averaged. */
  readonly sums: boolean;
  leave(row: number, reason: string): void;
  /** Sets the row aside where it is filtered out or lies outside the depth. */
  refuse(row: number): boolean;
  weight(row: number): number;
  count(): Record<string, number>;
}

function openTable(step: TableStep, after: TableStep | undefined, effect: string): OpenTable {
  const { table } = step;
  const sums = step.depth?.how === 'sum';
  if (sums && step.weight !== null) refuseWeight(table.file, step.weight, effect);
  const reasons = new Map<number, string>();
  const filter = step.where ? columnNamed(table, step.where.column, effect) : null;
  const weights = step.weight === null ? null : numberColumn(table, step.weight, effect);
  const depth = step.depth && {
    ...step.depth,
    tops: numberColumn(table, step.depth.top, effect),
    bottoms: numberColumn(table, step.depth.bottom, effect),
  };
  const plain = (text: unknown) =>
    String(text ?? '')
      .trim()
      .toLowerCase();
  const thickness = (row: number): number =>
    depth ? Math.min(depth.bottoms[row], depth.to_cm) - Math.max(depth.tops[row], depth.from_cm) : 1;
  const leave = (row: number, reason: string) => {
    reasons.set(row, reason);
  };
  return {
    records: table.records,
    key: keysOf(columnNamed(table, step.toKey, effect), table.records),
    next: after ? keysOf(columnNamed(table, after.fromKey, effect), table.records) : null,
    reasons,
    sums,
    leave,
    refuse(row) {
      if (filter && step.where && plain(cellValue(filter, row)) !== plain(step.where.equals))
        leave(row, 'filtered-out');
      else if (Number.isNaN(thickness(row))) leave(row, 'no-depth');
      else if (depth && !(thickness(row) > 0)) leave(row, 'outside-depth');
      return reasons.has(row);
    },
    weight: (row) => (weights ? weights[row] : 1) * thickness(row),
    count() {
      const counts: Record<string, number> = {};
      for (const reason of reasons.values()) counts[reason] = (counts[reason] ?? 0) + 1;
      return counts;
    },
  };
}

function refuseWeight(where: string, weight: string, effect: string): never {
  throw new Refusal({
    code: 'sum-weighted',
    where,
    found: `a sum over depth weighted by ${weight}`,
    expected: 'a sum, or a weighted mean',
    effect,
    remedy: 'Take the weight out, or average over the depth',
  });
}

function keysOf(column: Column, records: number): string[] {
  return Array.from({ length: records }, (_, row) => keyText(cellValue(column, row)));
}

/** A key as text; a whole number loses its decimals. */
export function keyText(value: number | string | null): string {
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
