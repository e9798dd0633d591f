import type { Product } from '../../../engine/lineup/product.ts';
import type { LineupSite } from '../../../plan/lineup-schema.ts';
import { count, figure } from '../../parts/figures.ts';

/** How many plots of a product a lineup keeps; '' for none. */
export function trialWords({ plots }: Product): string {
  if (plots === null || plots.site.length === 0) return '';
  return `${count(plots.site.length, 'plot')} at ${count(new Set(plots.site).size, 'site')}`;
}

/** What becomes of a product's plots; nothing where they are the same. */
export function trialChangeWords(was: Product, now: Product, same: boolean): string[] {
  const [trials, earlier] = [trialWords(now), trialWords(was)];
  if (trials === '' && earlier !== '') {
    const plots = was.plots?.site.length ?? 0;
    const go = plots === 1 ? 'its plot goes' : `its ${figure(plots)} plots go`;
    return [now.response ? `${go}; the curve stays, with nothing behind it` : go];
  }
  if (trials !== earlier) return [`${trials}, before ${earlier || 'none'}`];
  return same ? [] : [`${trials}, other than before`];
}

/** Whether the plots are the same, whatever their order; sites by what they are known by. */
export function samePlots(
  was: Product,
  now: Product,
  before: readonly string[],
  after: readonly string[],
): boolean {
  const [earlier, later] = [plotKeys(was, before), plotKeys(now, after)];
  if (earlier.length !== later.length) return false;
  // Mostly they stand in the order they had.
  if (earlier.every((own, k) => own === later[k])) return true;
  earlier.sort();
  later.sort();
  return earlier.every((own, k) => own === later[k]);
}

function plotKeys({ plots }: Product, siteKeys: readonly string[]): string[] {
  if (plots === null) return [];
  const { site, stand_plantsPerAc, yield_buPerAc } = plots;
  return site.map((at, k) => `${siteKeys[at]} ${stand_plantsPerAc[k]} ${yield_buPerAc[k]}`);
}

/** What a site is known by. */
export function siteKey({ name, year }: LineupSite): string {
  return `${name.replace(/\s+/g, '').toLowerCase()}\u0001${year ?? ''}`;
}
