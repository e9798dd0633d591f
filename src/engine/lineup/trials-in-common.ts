import type { Product, RatedProduct } from './product.ts';
import { trialGroups } from './trial-groups.ts';

/** The products of trials that are known no longer: what they stood beside, nobody can tell. */
export const PLOTS_GONE = -1;
/** Products of which no trial is told: their figures are somebody's word. */
export const NO_TRIALS = -2;

/** By product, the group of trials it stood in: products of one group stood at a site together, or each beside one that did. Groups are numbered from 0; `PLOTS_GONE` and `NO_TRIALS` besides. What was told of the whole lineup before stands. */
export function trialsInCommon(
  products: readonly (Pick<Product, 'plots' | 'fit'> & Pick<RatedProduct, 'trialGroup'>)[],
): Int32Array {
  if (products.every(({ trialGroup }) => trialGroup !== undefined))
    return Int32Array.from(products, ({ trialGroup }) => trialGroup ?? NO_TRIALS);
  const plots = products.flatMap(({ plots: own }, product) =>
    (own?.site ?? []).map((site) => ({ product, site })),
  );
  const sites = plots.reduce((most, { site }) => Math.max(most, site + 1), 0);
  const { of } = trialGroups(
    {
      products,
      sites: { length: sites },
      product: Uint32Array.from(plots, ({ product }) => product),
      site: Uint32Array.from(plots, ({ site }) => site),
    },
    plots.map((_, row) => row),
  );
  const groups = Int32Array.from(products, ({ fit }) => (fit === null ? NO_TRIALS : PLOTS_GONE));
  for (const { product, site } of plots) groups[product] = of[site];
  return groups;
}
