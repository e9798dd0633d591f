import type { HandOffDocument } from '../hand-off-document.ts';
import type { ProofCheck } from '../prove.ts';

type Ledger = HandOffDocument['ledger'];

/** Decimals of the columns that are rounded; the others are whole or text. */
const HALF: Readonly<Record<string, number>> = {
  acres: 0.0005,
  units: 0.005,
  seed_cost: 0.005,
  treatment_cost: 0.005,
};

/** `ledger.csv` against the manifest's ledger, row by row: zones in order, then the field. */
export function ledgerTable(ledger: Ledger, file: string, bytes: Uint8Array): ProofCheck {
  const [head = [], ...rows] = rowsOf(new TextDecoder().decode(bytes));
  const expected: Record<string, string | number>[] = [
    ...ledger.byZone.map(({ zone, name, product, seedsPerAc, seedCost, treatmentCost, ...amounts }) => ({
      ...{ zone, name, product, seeds_per_ac: seedsPerAc },
      ...{ seed_cost: seedCost, treatment_cost: treatmentCost },
      ...amounts,
    })),
    {
      acres: ledger.total.acres,
      seeds: ledger.total.seeds,
      units: ledger.total.units,
      seed_cost: ledger.total.seedCost,
      treatment_cost: ledger.total.treatmentCost,
    },
  ];
  const alike = expected.filter((row, k) =>
    Object.entries(row).every(([column, value]) =>
      same(rows[k]?.[head.indexOf(column)], value, HALF[column] ?? 0),
    ),
  );
  return {
    file,
    what: 'rows as in the manifest',
    expected: `${expected.length} of ${expected.length}`,
    found: `${alike.length} of ${rows.length}`,
    ok: alike.length === expected.length && rows.length === expected.length,
  };
}

/** Text may stand behind an apostrophe, by which no spreadsheet takes it for a formula. */
function same(cell: string | undefined, value: string | number, half: number): boolean {
  if (cell === undefined || cell === '') return false;
  if (typeof value === 'string') return cell === value || cell === `'${value}`;
  return Math.abs(Number(cell) - value) <= half * (1 + 1e-9);
}

/** RFC 4180, every line ended. */
function rowsOf(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  for (const [, cell, end] of text.matchAll(/("(?:[^"]|"")*"|[^,\r\n]*)(,|\r\n)/g)) {
    row.push(cell.startsWith('"') ? cell.slice(1, -1).replaceAll('""', '"') : cell);
    if (end === ',') continue;
    rows.push(row);
    row = [];
  }
  return rows;
}
