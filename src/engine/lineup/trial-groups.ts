import type { TrialTable } from './trial-table.ts';

/** What was where, plot by plot: of products and sites only how many there are counts. */
export interface Placed extends Pick<TrialTable, 'product' | 'site'> {
  readonly products: { readonly length: number };
  readonly sites: { readonly length: number };
}

export interface TrialGroups {
  /** The group of each site of the table, −1 for one without a plot; numbered in the order of sites. */
  readonly of: Int32Array;
  readonly groups: number;
}

/** Sites joined by common products, of the plots in `rows`. */
export function trialGroups(
  { products, sites, product, site }: Placed,
  rows: readonly number[],
): TrialGroups {
  // Products stand behind the sites in one forest.
  const parent = Uint32Array.from({ length: sites.length + products.length }, (_, k) => k);
  const rootOf = (k: number) => {
    let root = k;
    while (parent[root] !== root) {
      parent[root] = parent[parent[root]];
      root = parent[root];
    }
    return root;
  };
  const stood = new Uint8Array(sites.length);
  for (const i of rows) {
    stood[site[i]] = 1;
    const [a, b] = [rootOf(site[i]), rootOf(sites.length + product[i])];
    parent[Math.max(a, b)] = Math.min(a, b);
  }
  const number = new Map<number, number>();
  const of = new Int32Array(sites.length).fill(-1);
  for (let j = 0; j < sites.length; j++) {
    if (stood[j] === 0) continue;
    const root = rootOf(j);
    if (!number.has(root)) number.set(root, number.size);
    of[j] = number.get(root)!;
  }
  return { of, groups: number.size };
}
