import type { TrialTable } from '../../../src/engine/lineup/trial-table.ts';

/** A plot as a test writes it. */
export interface Row {
  readonly product: string;
  readonly site: string;
  readonly yield: number;
  readonly stand?: number;
  readonly year?: number;
  readonly crop?: string;
}

/** Plots as a trial table, products and sites in the order they come. A site's year and a product's crop are those of its first plot. */
export function trials(rows: readonly Row[]): TrialTable {
  const products = [...new Set(rows.map(({ product }) => product))];
  const sites = [...new Set(rows.map(({ site }) => site))];
  return {
    products: products.map((name) => ({
      name,
      crop: rows.find(({ product }) => product === name)?.crop ?? 'corn',
    })),
    sites: sites.map((name) => ({
      name,
      year: rows.find(({ site }) => site === name)?.year ?? null,
      environment_buPerAc: NaN,
    })),
    product: Uint32Array.from(rows, ({ product }) => products.indexOf(product)),
    site: Uint32Array.from(rows, ({ site }) => sites.indexOf(site)),
    stand_plantsPerAc: Float64Array.from(rows, ({ stand }) => stand ?? NaN),
    yield_buPerAc: Float64Array.from(rows, (row) => row.yield),
    block: new Uint32Array(rows.length),
  };
}

/** Mean by site of the products' site means: the environment where every product is everywhere. */
export function siteMeans(table: TrialTable, leftOut = -1): Float64Array {
  const cells = new Map<string, number[]>();
  for (let i = 0; i < table.product.length; i++) {
    if (table.product[i] === leftOut) continue;
    const key = `${table.site[i]} ${table.product[i]}`;
    cells.set(key, [...(cells.get(key) ?? []), table.yield_buPerAc[i]]);
  }
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  return Float64Array.from(table.sites, (_, site) =>
    mean([...cells].filter(([key]) => key.startsWith(`${site} `)).map(([, values]) => mean(values))),
  );
}
