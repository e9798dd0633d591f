import type { Issue } from '../issue.ts';
import { cholesky, solveByCholesky } from '../math/cholesky.ts';
import { sameCrop } from '../math/crop-name.ts';
import { trialGroups } from './trial-groups.ts';
import type { TrialTable } from './trial-table.ts';

/** Stands this near each other, as a share, are one. */
const SAME_STAND = 0.05;

export interface SiteEnvironments {
  /** By site of the table, bu/ac: as told, worked out where not told; NaN for a site without a plot of the crop. */
  readonly environment_buPerAc: Float64Array;
  readonly told: number;
  readonly workedOut: number;
  /** What was done, in sentences. */
  readonly said: readonly string[];
  readonly issues: readonly Issue[];
}

/**
 * The yield environment of every site a crop was tried at: told, or what the average product of the trials would yield there at a good stand. Worked out by least squares of y = product + site +
 * quadratic in stand over all plots of the crop, which does not ask every product to be everywhere; the good stand is the top of that quadratic within the stands tried, the average is that of
 * products, each once. Plots without a stand count as at the mean stand. Where some sites are told, the others are moved by the mean difference at those.
 */
export function siteEnvironments(table: TrialTable, crop: string): SiteEnvironments {
  const { products, sites, product, site } = table;
  const rows: number[] = [];
  for (let i = 0; i < product.length; i++) if (sameCrop(products[product[i]].crop, crop)) rows.push(i);
  const environment = new Float64Array(sites.length).fill(NaN);
  const present = [...new Set(rows.map((i) => site[i]))].sort((a, b) => a - b);
  for (const j of present) environment[j] = sites[j].environment_buPerAc;
  const untold = present.filter((j) => Number.isNaN(environment[j]));
  const told = present.length - untold.length;
  if (untold.length === 0) {
    const said = told > 0 ? [`The environments of all ${told} ${crop} sites are as told.`] : [];
    return { environment_buPerAc: environment, told, workedOut: 0, said, issues: [] };
  }
  const { of: groupOf, groups } = trialGroups(table, rows);
  const worked = workOut(table, rows, present, groupOf);
  const issues: Issue[] = [];
  for (let g = 0; g < groups; g++) {
    const own = present.filter((j) => groupOf[j] === g);
    const known = own.filter((j) => !Number.isNaN(environment[j]));
    let shift = 0;
    for (const j of known) shift += (environment[j] - worked[j]) / known.length;
    for (const j of own) if (Number.isNaN(environment[j])) environment[j] = worked[j] + shift;
    if (groups > 1 && known.length === 0) issues.push(notConnected(table, own, present.length, crop));
  }
  return {
    environment_buPerAc: environment,
    told,
    workedOut: untold.length,
    said: [
      `The environments of ${untold.length} of ${present.length} ${crop} sites are worked out from the yields there: what the average product would yield at a good stand.`,
    ],
    issues,
  };
}

function notConnected({ sites }: TrialTable, own: readonly number[], all: number, crop: string): Issue {
  const some = own.slice(0, 3).map((j) => sites[j].name);
  const names = own.length > 3 ? [...some, `${own.length - 3} more`] : some;
  return {
    code: 'trials-not-connected',
    severity: 'warning',
    where: `${crop} trials`,
    found: `${own.length} of ${all} sites share no product with the others (${names.join(', ')})`,
    expected: 'sites joined by common products, or environments that are told',
    effect:
      'Their environments are worked out among themselves, as if their products were as good as the others',
    remedy: 'Tell the environments of these sites, or add a trial that joins them',
  };
}

/** Environments by site of the table. Products are taken out of the normal equations first, so that only sites and the stand are solved for. */
function workOut(
  table: TrialTable,
  rows: readonly number[],
  present: readonly number[],
  groupOf: ArrayLike<number>,
): Float64Array {
  const stand = standTerms(table, rows);
  const place = new Int32Array(table.sites.length).fill(-1);
  // The first site of a group is what the others are measured against.
  const first = new Set<number>();
  let free = 0;
  for (const j of present) {
    if (first.has(groupOf[j])) place[j] = free++;
    first.add(groupOf[j]);
  }
  for (let terms = stand.terms; ; terms--) {
    const solved = solve(table, rows, stand.x, place, free, terms);
    if (solved) return fromEffects(table, rows, present, groupOf, place, solved, stand, free, terms);
  }
}

interface StandTerms {
  /** Stand from its mean, in its own spread; 0 where not known. */
  readonly x: Float64Array;
  readonly least: number;
  readonly most: number;
  /** 2 where a quadratic can be told, 1 a line, 0 nothing. */
  readonly terms: number;
}

function standTerms({ stand_plantsPerAc: stand }: TrialTable, rows: readonly number[]): StandTerms {
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
    x: Float64Array.from(rows, (i) => scaled(stand[i])),
    least: scaled(known[0]),
    most: scaled(known[known.length - 1]),
    terms: Math.min(2, Math.max(0, different - 1)),
  };
}

/** Effects of the free sites, then of the stand; null where the plots do not tell them apart. */
function solve(
  { products, product, site, yield_buPerAc: y }: TrialTable,
  rows: readonly number[],
  x: Float64Array,
  place: Int32Array,
  free: number,
  terms: number,
): Float64Array | null {
  const size = free + terms;
  const width = size + 1;
  const normal = new Float64Array(size * size);
  const right = new Float64Array(size);
  // Sums of the columns and of the yields by product, to be taken out.
  const sums = new Float64Array(products.length * width);
  const plots = new Uint32Array(products.length);
  const own = new Float64Array(terms);
  for (let k = 0; k < rows.length; k++) {
    const i = rows[k];
    const at = place[site[i]];
    const base = product[i] * width;
    for (let a = 0; a < terms; a++) own[a] = a === 0 ? x[k] : x[k] * x[k];
    plots[product[i]]++;
    sums[base + size] += y[i];
    if (at >= 0) {
      normal[at * size + at]++;
      right[at] += y[i];
      sums[base + at]++;
    }
    for (let a = 0; a < terms; a++) {
      const row = free + a;
      if (at >= 0) normal[row * size + at] += own[a];
      for (let b = 0; b <= a; b++) normal[row * size + free + b] += own[a] * own[b];
      right[row] += own[a] * y[i];
      sums[base + row] += own[a];
    }
  }
  for (let p = 0; p < products.length; p++) {
    if (plots[p] === 0) continue;
    const base = p * width;
    for (let a = 0; a < size; a++) {
      const share = sums[base + a] / plots[p];
      if (share === 0) continue;
      right[a] -= share * sums[base + size];
      for (let b = 0; b <= a; b++) normal[a * size + b] -= share * sums[base + b];
    }
  }
  if (!cholesky(normal, size)) return null;
  solveByCholesky(normal, size, right);
  return right;
}

function fromEffects(
  { products, product, site, yield_buPerAc: y }: TrialTable,
  rows: readonly number[],
  present: readonly number[],
  groupOf: ArrayLike<number>,
  place: Int32Array,
  effects: Float64Array,
  { x, least, most }: StandTerms,
  free: number,
  terms: number,
): Float64Array {
  const [b1, b2] = [terms > 0 ? effects[free] : 0, terms > 1 ? effects[free + 1] : 0];
  const ofStand = (at: number) => b1 * at + b2 * at * at;
  const top = b2 < 0 ? Math.min(most, Math.max(least, -b1 / (2 * b2))) : NaN;
  const good = Number.isNaN(top) ? Math.max(ofStand(least) || 0, ofStand(most) || 0) : ofStand(top);
  const ofSite = (j: number) => (place[j] < 0 ? 0 : effects[place[j]]);
  const sums = new Float64Array(products.length);
  const plots = new Uint32Array(products.length);
  const group = new Int32Array(products.length);
  for (let k = 0; k < rows.length; k++) {
    const i = rows[k];
    sums[product[i]] += y[i] - ofSite(site[i]) - ofStand(x[k]);
    plots[product[i]]++;
    group[product[i]] = groupOf[site[i]];
  }
  const means = new Map<number, { sum: number; products: number }>();
  for (let p = 0; p < products.length; p++) {
    if (plots[p] === 0) continue;
    const own = means.get(group[p]) ?? { sum: 0, products: 0 };
    means.set(group[p], { sum: own.sum + sums[p] / plots[p], products: own.products + 1 });
  }
  const found = new Float64Array(groupOf.length).fill(NaN);
  for (const j of present) {
    const own = means.get(groupOf[j])!;
    found[j] = own.sum / own.products + ofSite(j) + good;
  }
  return found;
}
