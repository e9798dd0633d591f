import { fitProductsAndSites, type ProductSiteData, type ProductSiteFit } from './product-site-fit.ts';
import type { TrialTable } from './trial-table.ts';

/** Stands this near each other, as a share, are one: no more than counting them makes. Our own choice. */
const SAME_STAND = 0.05;

/** What all products of a crop have in common in how they answer to their stand. */
export interface StandEffect {
  readonly fit: ProductSiteFit;
  /** 2 for a quadratic, 1 for a line, 0 where the yields show no effect. */
  readonly terms: number;
  /** Whether stands differ at all. */
  readonly differ: boolean;
  /** Bushels a plot would have yielded more at the good stand, by row of the table; 0 without an effect. */
  readonly shortOfGood_buPerAc: Float64Array;
  /** What the good stand yields more than the mean one, bu/ac. */
  readonly good_buPerAc: number;
}

/**
 * The effect of stand in y = product + site + quadratic in stand. Counted stands differ by chance too, and a slope taken from that would move whole sites: so there is none unless some site
 * has stands that spread by more than counting makes, and a term is kept where it earns its place by the criterion of Schwarz (1978, Annals of Statistics 6:461), which asks more of it the
 * more plots there are. The good stand is the top of the quadratic within the stands tried, or the better end of them. Plots without a stand count as at the mean stand.
 */
export function standEffect(table: TrialTable, data: Omit<ProductSiteData, 'y' | 'columns'>): StandEffect {
  const { x, least, most, different } = scaledStands(table, data.rows);
  const termsAtMost = variedAtASite(table, data.rows) ? different - 1 : 0;
  const powers = [x, x.map((own) => own * own)].slice(0, termsAtMost);
  const n = data.rows.length;
  // Without columns there is always an answer.
  let fit = fitProductsAndSites({ ...data, y: table.yield_buPerAc })!;
  let terms = 0;
  let leastBic = n * Math.log(fit.rss / n);
  for (let count = 1; count <= powers.length; count++) {
    const own = fitProductsAndSites({ ...data, y: table.yield_buPerAc, columns: powers.slice(0, count) });
    if (!own || own.df < 1) break;
    const bic = n * Math.log(own.rss / n) + count * Math.log(n);
    if (!(bic < leastBic)) continue;
    [fit, terms, leastBic] = [own, count, bic];
  }
  const [b1 = 0, b2 = 0] = fit.columns;
  const ofStand = (at: number) => b1 * at + b2 * at * at;
  const good = terms === 0 ? 0 : ofStand(goodStand(b1, b2, least, most));
  return {
    fit,
    terms,
    differ: different > 1,
    shortOfGood_buPerAc: x.map((at) => good - ofStand(at)),
    good_buPerAc: good,
  };
}

function goodStand(b1: number, b2: number, least: number, most: number): number {
  if (b2 < 0) return Math.min(most, Math.max(least, -b1 / (2 * b2)));
  return b1 * least + b2 * least * least > b1 * most + b2 * most * most ? least : most;
}

/** Stands from their mean in their own spread, by row of the table, 0 where not known; and how many there are that differ. */
function scaledStands({ stand_plantsPerAc: stand }: TrialTable, rows: readonly number[]) {
  const known = Float64Array.from(rows, (i) => stand[i]).filter((own) => own > 0 && own < Infinity);
  known.sort();
  let sum = 0;
  for (const own of known) sum += own;
  const mean = sum / known.length;
  let squares = 0;
  let different = 0;
  let lowest = NaN;
  for (const own of known) {
    squares += (own - mean) ** 2;
    if (own <= lowest * (1 + SAME_STAND)) continue;
    lowest = own;
    different++;
  }
  const spread = Math.sqrt(squares / known.length);
  const scaled = (own: number) => (spread > 0 && own > 0 && own < Infinity ? (own - mean) / spread : 0);
  return {
    x: Float64Array.from(stand, scaled),
    least: scaled(known[0]),
    most: scaled(known[known.length - 1]),
    different,
  };
}

/** Whether the stands of some site spread by more than counting makes. */
function variedAtASite(
  { sites, site, stand_plantsPerAc: stand }: TrialTable,
  rows: readonly number[],
): boolean {
  const known = rows.filter((i) => stand[i] > 0 && stand[i] < Infinity);
  const [count, sum, squares] = [0, 1, 2].map(() => new Float64Array(sites.length));
  for (const i of known) {
    count[site[i]]++;
    sum[site[i]] += stand[i];
  }
  for (const i of known) squares[site[i]] += (stand[i] * (count[site[i]] / sum[site[i]]) - 1) ** 2;
  return squares.some((own, j) => count[j] > 1 && Math.sqrt(own / (count[j] - 1)) > SAME_STAND);
}
