import type { Product } from '../../../engine/lineup/product.ts';
import { plainCrop } from '../../../engine/math/crop-name.ts';
import type { Lineup } from '../../../plan/lineup-schema.ts';
import { count, figure } from '../../parts/figures.ts';
import { siteKey } from './trial-change-words.ts';

/** From here a best stand is said to be more that of the others than its own. */
const MOSTLY = 0.5;
/** Environments are kept to a tenth of a bushel; two that differ by less are one. */
const SAME_GROUND_buPerAc = 0.05;

/** A lineup with how many curves of their own it has, by crop and family: what the others lean on. */
export interface LineupCurves {
  readonly sites: Lineup['sites'];
  /** What each site is known by. */
  readonly siteKeys: readonly string[];
  readonly curves: ReadonlyMap<string, number>;
}

export function lineupCurves({ products, sites }: Pick<Lineup, 'products' | 'sites'>): LineupCurves {
  const curves = new Map<string, number>();
  for (const product of products)
    if (isOwnCurve(product)) curves.set(groupKey(product), (curves.get(groupKey(product)) ?? 0) + 1);
  return { sites, siteKeys: sites.map(siteKey), curves };
}

/** Whose best stand it is, where it is not mostly the product's own; else ''. */
export function leaningMark(product: Product): string {
  const leaning = leaningOf(product);
  if (leaning < MOSTLY) return '';
  const share = Math.round(100 * leaning);
  return share === 100 ? 'that of the others' : `leans ${share} % on the others`;
}

/** Why the curve of a product is another now though its own plots are the same. */
export function curveChangeWords(
  was: Product,
  now: Product,
  before: LineupCurves,
  after: LineupCurves,
): string[] {
  if (now.response === null) return ['no curve any more'];
  const words = [
    ...leaningWords(leansOn(was, before), leansOn(now, after)),
    ...groundWords(was, now, before, after),
    ...(was.response && was.response.family !== now.response.family ? ['a curve of another form'] : []),
  ];
  return words.length > 0 ? words : ['its curve fitted anew'];
}

interface Leaning {
  readonly percent: number;
  readonly others: number;
}

function leaningWords(was: Leaning, now: Leaning): string[] {
  if (now.percent === 0) return was.percent === 0 ? [] : ['leans on no others now'];
  const share = ({ percent }: Leaning) => (percent === 100 ? 'wholly' : `${percent} %`);
  const curves = count(now.others, 'other curve');
  if (was.percent === now.percent && was.others === now.others)
    return [`leans ${share(now)} on ${curves}, which are not as they were`];
  const before = was.percent === 0 ? '' : `, before ${share(was)} on ${figure(was.others)}`;
  return [`leans ${share(now)} on ${curves} now${before}`];
}

/** Sites whose environment is worked out count as other ground where the products they are held against are others. */
function groundWords(was: Product, now: Product, before: LineupCurves, after: LineupCurves): string[] {
  const [earlier, later] = [groundOf(was, before), groundOf(now, after)];
  const apart = [...later].map(([site, own]) => own - (earlier.get(site) ?? NaN));
  const known = apart.filter((own) => !Number.isNaN(own));
  if (!known.some((own) => Math.abs(own) >= SAME_GROUND_buPerAc)) return [];
  const mean = known.reduce((sum, own) => sum + own / known.length, 0);
  const by = figure(Math.abs(mean), 1);
  const way = by === '0.0' ? 'other' : mean > 0 ? 'better' : 'poorer';
  const sites = later.size === 1 ? 'its site counts' : 'its sites count';
  return [`${sites} as ${way} ground${way === 'other' ? '' : `, by ${by} bu/ac`}`];
}

function groundOf({ plots }: Product, { sites, siteKeys }: LineupCurves): Map<string, number> {
  return new Map(
    [...new Set(plots?.site ?? [])].map((at) => [siteKeys[at], sites[at].environment_buPerAc ?? NaN]),
  );
}

function leansOn(product: Product, { curves }: LineupCurves): Leaning {
  const percent = Math.round(100 * leaningOf(product));
  return { percent, others: (curves.get(groupKey(product)) ?? 0) - (isOwnCurve(product) ? 1 : 0) };
}

function leaningOf({ response, fit }: Product): number {
  return response === null ? 0 : (fit?.leaning ?? 0);
}

/** A curve that is lent, or whose plots are gone, says nothing of the others. */
function isOwnCurve({ response, fit, plots }: Product): boolean {
  return response !== null && plots !== null && fit !== null && fit.leaning < 1;
}

function groupKey({ crop, response }: Product): string {
  return `${plainCrop(crop)} ${response?.family ?? ''}`;
}
