import type { HandOffDocument } from '../hand-off-document.ts';
import type { ProofCheck } from '../prove.ts';

type Ledger = HandOffDocument['ledger'];
type Amounts = Ledger['total'];

/** Sums of the same doubles in another order differ by their last digits only. */
const CLOSE = 1e-9;

/** A manifest's ledger against itself: whole seeds by zone are area × rate, units and cost follow from the seeds, and rows add up to products, products to the total. */
export function ledgerCloses(ledger: Ledger, file: string): ProofCheck[] {
  const check = (what: string, expected: Amounts, rows: readonly Amounts[]): ProofCheck => {
    const found = addUp(rows);
    return { file, what, expected: textOf(expected), found: textOf(found), ok: same(expected, found) };
  };
  const wrong = ledger.byZone.filter((row) => row.seeds !== Math.round(row.acres * row.seedsPerAc));
  const priced = ledger.byZone.filter((row) => followSeeds(row, row.product, ledger));
  const products = ledger.byProduct.filter((row) => followSeeds(row, row.product, ledger));
  const ordered = ledger.byProduct.filter((row) => isOrdered(row, ledger));
  return [
    {
      file,
      what: 'zones whose units and cost follow from their seeds',
      expected: `${ledger.byZone.length} of ${ledger.byZone.length}`,
      found: `${priced.length} of ${ledger.byZone.length}`,
      ok: priced.length === ledger.byZone.length,
    },
    {
      file,
      what: 'products whose units and cost follow from their seeds',
      expected: `${ledger.byProduct.length} of ${ledger.byProduct.length}`,
      found: `${products.length} of ${ledger.byProduct.length}`,
      ok: products.length === ledger.byProduct.length,
    },
    {
      file,
      what: 'zones whose seeds are acres × rate',
      expected: `${ledger.byZone.length} of ${ledger.byZone.length}`,
      found: `${ledger.byZone.length - wrong.length} of ${ledger.byZone.length}`,
      ok: wrong.length === 0,
    },
    ...ledger.byProduct.map((row) =>
      check(
        `${row.product}, zones added up`,
        row,
        ledger.byZone.filter((zone) => zone.product === row.product),
      ),
    ),
    check('total, zones added up', ledger.total, ledger.byZone),
    check('total, products added up', ledger.total, ledger.byProduct),
    {
      file,
      what: 'order lines that hold the seed planted and its spare, and no whole unit or box more',
      expected: `${ledger.byProduct.length} of ${ledger.byProduct.length}`,
      found: `${ordered.length} of ${ledger.byProduct.length}`,
      ok: ordered.length === ledger.byProduct.length && ledger.order.length === ledger.byProduct.length,
    },
  ];
}

function addUp(rows: readonly Amounts[]): Amounts {
  return {
    acres: rows.reduce((sum, row) => sum + row.acres, 0),
    seeds: rows.reduce((sum, row) => sum + row.seeds, 0),
    units: rows.reduce((sum, row) => sum + row.units, 0),
    seedCost: rows.reduce((sum, row) => sum + row.seedCost, 0),
    treatmentCost: rows.reduce((sum, row) => sum + row.treatmentCost, 0),
  };
}

/** units = seeds / seeds per unit, cost = units × price, as the product's row states both. */
function followSeeds(
  { seeds, units, seedCost, treatmentCost }: Amounts,
  product: string,
  ledger: Ledger,
): boolean {
  const priced = ledger.byProduct.find((row) => row.product === product);
  if (!priced) return false;
  const exact = seeds / priced.seedsPerUnit;
  return (
    near(units, exact) &&
    near(seedCost, exact * priced.pricePerUnit) &&
    near(treatmentCost, exact * priced.treatmentsPerUnit)
  );
}

function isOrdered(
  { product, seeds, seedsPerUnit, pricePerUnit }: Ledger['byProduct'][number],
  ledger: Ledger,
): boolean {
  const line = ledger.order.find((own) => own.product === product);
  if (!line || line.seeds !== seeds) return false;
  const needed = (seeds + line.spareSeeds) / seedsPerUnit;
  const step = line.boxes === null ? 1 : line.units / Math.max(1, line.boxes);
  const whole = line.boxes === null ? Number.isInteger(line.units) : true;
  return (
    whole &&
    line.units >= needed * (1 - CLOSE) &&
    line.units - step < needed * (1 + CLOSE) &&
    near(line.cost, line.units * pricePerUnit)
  );
}

function near(x: number, y: number): boolean {
  return Math.abs(x - y) <= CLOSE * Math.max(Math.abs(x), Math.abs(y));
}

function same(a: Amounts, b: Amounts): boolean {
  return (
    a.seeds === b.seeds &&
    near(a.acres, b.acres) &&
    near(a.units, b.units) &&
    near(a.seedCost, b.seedCost) &&
    near(a.treatmentCost, b.treatmentCost)
  );
}

function textOf({ acres, seeds, units, seedCost }: Amounts): string {
  return `${acres.toFixed(4)} ac, ${seeds} seeds, ${units.toFixed(3)} units, $${seedCost.toFixed(2)}`;
}
