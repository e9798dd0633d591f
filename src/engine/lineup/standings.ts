import type { AverageProduct } from './average-product.ts';
import { type Estimate, estimate, USUAL_LEVEL } from './estimate.ts';
import { type CellSpread, type Cells, cellsOf, spreadOfCells } from './site-spread.ts';

/** Where a product of a crop stands over all its trials. */
export interface Standing {
  readonly product: number;
  readonly sites: number;
  readonly plots: number;
  /** Other products that stood at one of its sites or more. */
  readonly met: number;
  /** What it yields more than the average product of its group, as if all had been at every site, bu/ac. */
  readonly lead: Estimate;
  /** NaN where no interval can be told. */
  readonly standardError_buPerAc: number;
}

/** Products that can be held against each other, the best first; those of one site, which tell nothing of the next, after those of several. */
export interface StandingGroup {
  readonly sites: readonly number[];
  readonly standings: readonly Standing[];
  /** How many products the average is of. */
  readonly averaged: number;
}

export interface Standings {
  /** Share of the intervals that hold the truth. */
  readonly level: number;
  /** Spread of a product from site to site beside what products and sites have in common, and of the plots within one site, bu/ac; NaN where it cannot be told. */
  readonly betweenSites_buPerAc: number;
  readonly withinSite_buPerAc: number;
  readonly df: number;
  /** Largest first. Sites of two groups share no product, so no standing of one says anything of the other's. */
  readonly groups: readonly StandingGroup[];
}

/**
 * Least-squares means of y = product + site (Yates 1934, Journal of the American Statistical Association 29:51): what products would have yielded had all been everywhere, so that none gains by weak
 * rivals or good sites. The unit is a product at a site, all its plots there averaged at the good stand: a product departs from site to site by more than plots do, so plots of one site are no
 * repetition of it. Means of few plots count for less, by a spread from site to site of which all products have the same (see `spreadOfCells`). Intervals by Student's t; what the good stand
 * itself is uncertain by is not in them.
 */
export function standingsOf(
  { atGoodStand, rows, groups, products }: AverageProduct,
  level = USUAL_LEVEL,
): Standings {
  const cells = cellsOf(atGoodStand, rows);
  const spread = spreadOfCells(cells, groups);
  const stood = cellsBy(cells, cells.placed.product);
  const there = cellsBy(cells, cells.placed.site);
  // By product, the one that met it last: a set for each of hundreds takes many times as long.
  const metBy = new Int32Array(cells.placed.products.length).fill(-1);
  const found: StandingGroup[] = [];
  for (let group = 0; group < groups.groups; group++) {
    const sites = [...groups.of.keys()].filter((site) => groups.of[site] === group);
    const own = sites.flatMap((site) => there.get(site)!);
    const members = [...new Set(own.map((cell) => cells.placed.product[cell]))].sort((a, b) => a - b);
    const averaged = new Set(members.filter((product) => products.has(product)));
    const against = againstMean(averaged, spread, level);
    const standings = members.map((product): Standing => {
      const mine = stood.get(product)!;
      let met = 0;
      for (const at of mine)
        for (const beside of there.get(cells.placed.site[at])!) {
          const other = cells.placed.product[beside];
          if (other === product || metBy[other] === product) continue;
          metBy[other] = product;
          met++;
        }
      return {
        product,
        sites: mine.length,
        plots: mine.reduce((total, cell) => total + cells.plots[cell], 0),
        met,
        // The only product of its group is its own average.
        ...(met > 0 ? against(product) : NOT_TOLD),
      };
    });
    found.push({ sites, standings: standings.sort(bestFirst), averaged: averaged.size });
  }
  found.sort((a, b) => b.standings.length - a.standings.length || a.sites[0] - b.sites[0]);
  const { fit, betweenSites_buPerAc, withinSite_buPerAc } = spread;
  return { level, betweenSites_buPerAc, withinSite_buPerAc, df: fit.df, groups: found };
}

type Lead = Pick<Standing, 'lead' | 'standardError_buPerAc'>;
const NOT_TOLD: Lead = { lead: estimate(NaN, NaN, 0), standardError_buPerAc: NaN };

function againstMean(averaged: ReadonlySet<number>, { fit, scale }: CellSpread, level: number) {
  let mean = 0;
  for (const product of averaged) mean += fit.product[product] / averaged.size;
  const variance = fit.varianceFrom(averaged);
  return (product: number): Lead => {
    const standardError_buPerAc = Math.sqrt(scale * variance(product));
    return {
      lead: estimate(fit.product[product] - mean, standardError_buPerAc, fit.df, level),
      standardError_buPerAc,
    };
  };
}

/** Cells by product or by site. */
function cellsBy({ rows }: Cells, of: ArrayLike<number>): Map<number, number[]> {
  const found = new Map<number, number[]>();
  for (const cell of rows) {
    const own = found.get(of[cell]);
    if (own) own.push(cell);
    else found.set(of[cell], [cell]);
  }
  return found;
}

/** By the table where two are alike; what is not told comes last. */
function bestFirst(a: Standing, b: Standing): number {
  const rank = ({ lead, sites }: Standing) => (Number.isNaN(lead.value) ? 2 : sites > 1 ? 0 : 1);
  return rank(a) - rank(b) || (rank(a) < 2 ? b.lead.value - a.lead.value : 0) || a.product - b.product;
}
