import type { TrialTable } from './trial-table.ts';

/** Stands of one site that lie within this share of the lowest of them count as one: stands counted in plots never agree to the plant. Our own choice. */
const ONE_STAND = 0.1;

/** What one side yielded more than the other at a site, over the stands both were at. */
export interface SitePair {
  readonly site: number;
  readonly difference_buPerAc: number;
  /** Of how many products the other side was there. */
  readonly others: number;
}

/** Two sides of a trial table, site by site. */
export interface Pairing {
  readonly pairs: readonly SitePair[];
  /** Products of the other side that stand in some pair. */
  readonly othersMet: number;
  /** Sites where both were, but at no common stand. */
  readonly standsApart: number;
  /** Plots of either side with no counterpart. */
  readonly oneLeftOut: number;
  readonly othersLeftOut: number;
}

interface Plots {
  readonly one: number[];
  readonly others: number[];
}

/**
 * Pairs by site and stand: at each stand the plots of a product are averaged, then the products of the other side; differences are
 * averaged over the stands of a site. Stands not told pair with stands not told.
 */
export function pairSites(table: TrialTable, one: number, others: readonly number[]): Pairing {
  const rivals = new Set(others);
  // Of hundreds of products most plots stand where the one does not.
  const stood = new Uint8Array(table.sites.length);
  for (let i = 0; i < table.product.length; i++) if (table.product[i] === one) stood[table.site[i]] = 1;
  const bySite = new Map<number, Plots>();
  let oneLeftOut = 0;
  let othersLeftOut = 0;
  for (let i = 0; i < table.product.length; i++) {
    const mine = table.product[i] === one;
    if (!mine && !rivals.has(table.product[i])) continue;
    if (mine) oneLeftOut++;
    else othersLeftOut++;
    if (stood[table.site[i]] === 0) continue;
    const plots = bySite.get(table.site[i]) ?? { one: [], others: [] };
    bySite.set(table.site[i], plots);
    (mine ? plots.one : plots.others).push(i);
  }
  const pairs: SitePair[] = [];
  const met = new Set<number>();
  let standsApart = 0;
  for (const [site, plots] of [...bySite].sort(([a], [b]) => a - b)) {
    if (plots.others.length === 0) continue;
    const common = byStand(table, plots).filter((at) => at.one.length > 0 && at.others.length > 0);
    if (common.length === 0) {
      standsApart++;
      continue;
    }
    let sum = 0;
    const here = new Set<number>();
    for (const at of common) {
      for (const i of at.others) here.add(table.product[i]);
      sum += productsMean(table, at.one) - productsMean(table, at.others);
      oneLeftOut -= at.one.length;
      othersLeftOut -= at.others.length;
    }
    for (const own of here) met.add(own);
    pairs.push({ site, difference_buPerAc: sum / common.length, others: here.size });
  }
  return { pairs, othersMet: met.size, standsApart, oneLeftOut, othersLeftOut };
}

/** The plots of a site sorted by stand, lowest first, stands not told last. */
function byStand({ stand_plantsPerAc: stand }: TrialTable, { one, others }: Plots): Plots[] {
  const all = [...one.map((i) => ({ i, mine: true })), ...others.map((i) => ({ i, mine: false }))];
  const known = all.filter(({ i }) => !Number.isNaN(stand[i])).sort((a, b) => stand[a.i] - stand[b.i]);
  const stands: Plots[] = [];
  let lowest = NaN;
  for (const { i, mine } of known) {
    if (!(stand[i] <= lowest * (1 + ONE_STAND))) {
      lowest = stand[i];
      stands.push({ one: [], others: [] });
    }
    const at = stands[stands.length - 1];
    (mine ? at.one : at.others).push(i);
  }
  const untold = (plots: readonly number[]) => plots.filter((i) => Number.isNaN(stand[i]));
  return [...stands, { one: untold(one), others: untold(others) }];
}

/** Mean of the products' means, so that a product with more plots counts no more. */
function productsMean({ product, yield_buPerAc }: TrialTable, plots: readonly number[]): number {
  const sums = new Map<number, { sum: number; plots: number }>();
  for (const i of plots) {
    const { sum, plots: n } = sums.get(product[i]) ?? { sum: 0, plots: 0 };
    sums.set(product[i], { sum: sum + yield_buPerAc[i], plots: n + 1 });
  }
  let total = 0;
  for (const { sum, plots: n } of sums.values()) total += sum / n;
  return total / sums.size;
}
