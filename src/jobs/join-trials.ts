import type { Issue } from '../engine/issue.ts';
import type { TrialSite, TrialTable } from '../engine/lineup/trial-table.ts';
import { productKey } from '../formats/lineup/product-ids.ts';

export interface JoinedTrials {
  readonly table: TrialTable;
  readonly issues: readonly Issue[];
}

/**
 * Two trial tables as one: products are known by name and crop, sites by name and year. What both tell of a product at a site are the same plots, as it seems: those of the later table stand. A site's environment is
 * that of the later where it tells one.
 */
export function joinTrials(earlier: TrialTable, later: TrialTable, where: string): JoinedTrials {
  const products = numbered([earlier.products, later.products], productKey);
  const sites = numbered([earlier.sites, later.sites], siteKey);
  const pair = (table: 0 | 1, product: number, site: number) =>
    products.index[table][product] * sites.all.length + sites.index[table][site];
  const told = new Set(Array.from(later.product, (product, i) => pair(1, product, later.site[i])));
  const kept: number[] = [];
  const replaced: number[] = [];
  for (let i = 0; i < earlier.product.length; i++)
    (told.has(pair(0, earlier.product[i], earlier.site[i])) ? replaced : kept).push(i);
  const plots = [
    ...kept.map((i) => ({ table: earlier, index: 0 as const, i })),
    ...Array.from(later.product, (_, i) => ({ table: later, index: 1 as const, i })),
  ];
  const table: TrialTable = {
    products: products.all,
    sites: sites.all.map(({ environment_buPerAc, ...site }, j) => {
      const own = later.sites[sites.index[1].indexOf(j)]?.environment_buPerAc;
      return { ...site, environment_buPerAc: own > 0 ? own : environment_buPerAc };
    }),
    product: Uint32Array.from(plots, ({ table: own, index, i }) => products.index[index][own.product[i]]),
    site: Uint32Array.from(plots, ({ table: own, index, i }) => sites.index[index][own.site[i]]),
    stand_plantsPerAc: Float64Array.from(plots, ({ table: own, i }) => own.stand_plantsPerAc[i]),
    yield_buPerAc: Float64Array.from(plots, ({ table: own, i }) => own.yield_buPerAc[i]),
    block: Uint32Array.from(plots, ({ table: own, i }) => own.block[i]),
  };
  return { table, issues: replaced.length > 0 ? [twice(earlier, replaced, where)] : [] };
}

function siteKey({ name, year }: TrialSite): string {
  return `${name.replace(/\s+/g, '').toLowerCase()}\u0001${year ?? ''}`;
}

/** All of both lists, each once by its key, and where each of a list stands in it. */
function numbered<T>(lists: readonly [readonly T[], readonly T[]], keyOf: (own: T) => string) {
  const place = new Map<string, number>();
  const all: T[] = [];
  const index = lists.map((list) =>
    list.map((own) => {
      const key = keyOf(own);
      const known = place.get(key);
      if (known !== undefined) return known;
      place.set(key, all.length);
      return all.push(own) - 1;
    }),
  );
  return { all, index };
}

function twice({ sites, site, product }: TrialTable, plots: readonly number[], where: string): Issue {
  const names = [...new Set(plots.map((i) => sites[site[i]].name))];
  const products = new Set(plots.map((i) => product[i])).size;
  return {
    code: 'trials-told-twice',
    severity: 'warning',
    where,
    found: `plots of ${products === 1 ? '1 product' : `${products} products`} at ${names.slice(0, 4).join(', ')}${names.length > 4 ? ', …' : ''}, of which there were plots before`,
    expected: 'each plot told once',
    effect: `The ${plots.length} ${plots.length === 1 ? 'plot' : 'plots'} told before are left out`,
    remedy: 'Nothing to do if they are the same plots; else give the sites names of their own',
  };
}
