import { sameCrop } from '../math/crop-name.ts';
import { standEffect } from './stand-effect.ts';
import { type TrialGroups, trialGroups } from './trial-groups.ts';
import type { TrialTable } from './trial-table.ts';

/** What the average product of a crop yields at each site. */
export interface AverageProduct {
  /** At a good stand, by site of the table, bu/ac; NaN for a site without a plot of the crop. */
  readonly yield_buPerAc: Float64Array;
  /** The table with every plot of the crop brought to that stand by what stand does to all products. */
  readonly atGoodStand: TrialTable;
  /** Whether stands differ, and the yields show an effect of that; without one plots stay as they are. */
  readonly stands: 'alike' | 'show no effect' | 'count';
  /** Plots of the crop, by row of the table. */
  readonly rows: readonly number[];
  readonly groups: TrialGroups;
  /** Products the average is of. */
  readonly products: ReadonlySet<number>;
}

/** The average is that of products, each once; within a group of sites joined by products, those that stood at two of its sites or more, so that a product of a single plot moves nothing. */
export function averageProduct(table: TrialTable, crop: string): AverageProduct {
  const rows = rowsOfCrop(table, crop);
  const groups = trialGroups(table, rows);
  const { fit, terms, differ, shortOfGood_buPerAc, good_buPerAc } = standEffect(table, {
    placed: table,
    rows,
    groups,
  });
  const products = productsOfAverage(table, rows, groups);
  const sums = new Float64Array(groups.groups);
  const count = new Uint32Array(groups.groups);
  for (const [product, group] of products) {
    sums[group] += fit.product[product];
    count[group]++;
  }
  return {
    yield_buPerAc:
      groups.of.length === 0
        ? new Float64Array()
        : Float64Array.from(groups.of, (group, j) =>
            group < 0 ? NaN : sums[group] / count[group] + fit.site[j] + good_buPerAc,
          ),
    atGoodStand:
      terms === 0
        ? table
        : { ...table, yield_buPerAc: table.yield_buPerAc.map((y, i) => y + shortOfGood_buPerAc[i]) },
    stands: terms > 0 ? 'count' : differ ? 'show no effect' : 'alike',
    rows,
    groups,
    products: new Set(products.keys()),
  };
}

function rowsOfCrop({ products, product }: TrialTable, crop: string): number[] {
  const rows: number[] = [];
  const ofCrop = products.map((own) => sameCrop(own.crop, crop));
  for (let i = 0; i < product.length; i++) if (ofCrop[product[i]]) rows.push(i);
  return rows;
}

/** The products that make the average, with their group. */
function productsOfAverage(
  { product, site }: TrialTable,
  rows: readonly number[],
  { of, groups }: TrialGroups,
): Map<number, number> {
  const sites = new Map<number, Set<number>>();
  for (const i of rows) {
    const own = sites.get(product[i]) ?? new Set();
    sites.set(product[i], own.add(site[i]));
  }
  const groupOf = (own: ReadonlySet<number>) => of[[...own][0]];
  const several = new Uint8Array(groups);
  for (const own of sites.values()) if (own.size > 1) several[groupOf(own)] = 1;
  return new Map(
    [...sites].flatMap(([own, at]) =>
      at.size > 1 || several[groupOf(at)] === 0 ? [[own, groupOf(at)]] : [],
    ),
  );
}
