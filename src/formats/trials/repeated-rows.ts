import type { Column } from '../../engine/layers/source.ts';
import { headerText } from './header-text.ts';
import type { TrialColumns } from './trial-columns.ts';

/** Columns that tell plots apart beside reps and blocks. */
const PLOTS =
  /_plots?_|parcel|parzelle|_strips?_|_pass(es)?_|_ranges?_|_tiers?_|_streifen_|_perceel_|_veldje_/;
/** So many rows alike one after another are no chance: they were copied. Our own choice. */
const COPIED = 5;
/** How many earlier rows alike are tried as the beginning of what was copied. */
const MOST_TRIED = 20;

export interface RepeatedRows {
  /** Rows over again, set aside. */
  readonly again: (record: number) => boolean;
  /** Rows alike that are kept, since nothing would tell replicates apart. */
  readonly alike: readonly number[];
}

/**
 * Rows with all cells as in a row above: copies where a column tells plots apart. Without one they are replicates, unless a run of rows, or the whole table, is repeated.
 */
export function repeatedRows(
  columns: readonly Column[],
  { rep, block }: TrialColumns,
  records: number,
): RepeatedRows {
  const keys = keysOf(columns, records);
  const earlier = new Map<number, number[]>();
  const repeats: (readonly number[])[] = [];
  for (let i = 0; i < records; i++) {
    const before = earlier.get(keys[i]) ?? [];
    repeats.push(before.slice(-MOST_TRIED));
    before.push(i);
    earlier.set(keys[i], before);
  }
  const toldApart =
    rep !== undefined || block !== undefined || columns.some(({ name }) => PLOTS.test(headerText(name)));
  if (toldApart) return { again: (i) => repeats[i].length > 0, alike: [] };
  const again = new Set<number>();
  const alike: number[] = [];
  for (let i = 0; i < records; i++) {
    if (repeats[i].length === 0) continue;
    const run = Math.max(...repeats[i].map((from) => runOf(keys, from, i)));
    for (let k = 0; k < run; k++) again.add(i + k);
    if (run === 0) alike.push(i);
    else i += run - 1;
  }
  return { again: (i) => again.has(i), alike };
}

/** Rows from `at` on that repeat those from `from` on, up to `at`; 0 where they are too few to be a copy. */
function runOf(keys: Int32Array, from: number, at: number): number {
  let run = 0;
  while (from + run < at && at + run < keys.length && keys[from + run] === keys[at + run]) run++;
  const wholeTable = from === 0 && run === at && at + run === keys.length && run > 1;
  const different = new Set(keys.subarray(at, at + run)).size;
  return wholeTable || different >= COPIED ? run : 0;
}

/** Equal for records whose cells are all alike. */
function keysOf(columns: readonly Column[], records: number): Int32Array {
  const known = new Map<string, number>();
  return Int32Array.from({ length: records }, (_, i) => {
    const cells = columns.map((column) => (column.kind === 'text' ? column.codes[i] : column.values[i]));
    const row = cells.join(',');
    const key = known.get(row) ?? known.size;
    known.set(row, key);
    return key;
  });
}
