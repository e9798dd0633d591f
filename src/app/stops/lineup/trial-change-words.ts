import type { Product } from '../../../engine/lineup/product.ts';
import type { LineupSite } from '../../../plan/lineup-schema.ts';
import { count, figure } from '../../parts/figures.ts';

type Sites = readonly LineupSite[];

/** How many plots of a product a lineup keeps; '' for none. */
export function trialWords({ plots }: Product): string {
  if (plots === null || plots.site.length === 0) return '';
  return `${count(plots.site.length, 'plot')} at ${count(new Set(plots.site).size, 'site')}`;
}

/** What becomes of a product's plots; nothing where they stay as they are. */
export function trialChangeWords(was: Product, now: Product, before: Sites, after: Sites): string[] {
  const [trials, earlier] = [trialWords(now), trialWords(was)];
  if (trials === '' && earlier !== '') {
    const plots = was.plots?.site.length ?? 0;
    const go = plots === 1 ? 'its plot goes' : `its ${figure(plots)} plots go`;
    return [now.response ? `${go}; the curve stays, with nothing behind it` : go];
  }
  if (trials !== earlier) return [`${trials}, before ${earlier || 'none'}`];
  return samePlots(was, now, before, after) ? [] : [`${trials}, other than before`];
}

/** Whether the plots are the same, whatever their order. */
export function samePlots(was: Product, now: Product, before: Sites, after: Sites): boolean {
  return plotKeys(was, before).join('\n') === plotKeys(now, after).join('\n');
}

function plotKeys({ plots }: Product, sites: Sites): string[] {
  if (plots === null) return [];
  const { site, stand_plantsPerAc, yield_buPerAc } = plots;
  return site.map((at, k) => `${siteKey(sites[at])} ${stand_plantsPerAc[k]} ${yield_buPerAc[k]}`).sort();
}

/** What a site is known by. */
export function siteKey({ name, year }: LineupSite): string {
  return `${name.replace(/\s+/g, '').toLowerCase()}\u0001${year ?? ''}`;
}
