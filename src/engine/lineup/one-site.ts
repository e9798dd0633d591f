import type { FamilyFit } from '../response/fit/family-fit.ts';
import { LEVEL } from '../response/fit/figures.ts';
import { withUnseen } from '../response/fit/unseen.ts';

/** How products differ from site to site beyond what the ground of all tells, as a variance, (bu/ac)²; NaN where nothing tells. */
export interface BetweenSites {
  readonly variance: number;
  readonly df: number;
}

/** Of the products at several sites, each by its degrees of freedom. */
export function betweenSitesOf(several: readonly FamilyFit[]): BetweenSites {
  let squares = 0;
  let df = 0;
  for (const { siteSd_buPerAc, betweenDf } of several) {
    squares += betweenDf * siteSd_buPerAc ** 2;
    df += betweenDf;
  }
  return { variance: squares / df, df };
}

/**
 * The fit of a product tried at a single site, whose blocks stood for sites: it says nothing of how the product would do elsewhere. What the others of its crop differ from site to site is added to the variance of its level, which mostly is of it, so that its degrees of freedom are theirs.
 */
export function unsureElsewhere(fit: FamilyFit, { variance, df }: BetweenSites): FamilyFit {
  if (Number.isNaN(variance))
    return {
      ...fit,
      doubts: [
        ...fit.doubts,
        'It was tried at one site: how it would do at others, and which stand would be the best there, is not known.',
      ],
    };
  const sd = Math.sqrt(variance).toFixed(1);
  const said = `It was tried at one site: that products do ${sd} bu/ac better or worse from site to site is counted in what is not known of its level; its best stand is that of this site.`;
  return { ...withUnseen(fit, { figure: LEVEL, variance }), betweenDf: df, doubts: [...fit.doubts, said] };
}
