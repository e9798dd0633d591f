import type { Issue } from '../engine/issue.ts';
import { curveOf } from '../engine/lineup/product-response.ts';
import { sameCrop } from '../engine/math/crop-name.ts';
import { curveDoubt } from '../engine/response/curve.ts';
import type { Lineup } from './lineup-schema.ts';
import { planIssue } from './plan-issue.ts';

type Product = Lineup['products'][number];

/** What the schema of a lineup cannot say: ids and names used once, ranges the right way round, ratings on scales that are declared, plots whole and at sites that are listed. */
export function lineupChecks(lineup: Lineup, where: string): Issue[] {
  return [
    ...scaleChecks(lineup, where),
    ...lineup.products.flatMap((product, k) => {
      const at = `${where} › products[${k}]`;
      return [
        ...twins(lineup.products, product, k, at),
        ...testedRange(product, at),
        ...curveChecks(product, at),
        ...covarianceChecks(product, at),
        ...ratingChecks(product, lineup.scales, at),
        ...plotChecks(product, lineup.sites.length, at),
      ];
    }),
  ];
}

function issue(code: string, at: string, found: string, expected: string, remedy: string): Issue {
  return planIssue('error', code, at, found, expected, 'The lineup is not used', remedy);
}

function twins(products: readonly Product[], product: Product, k: number, at: string): Issue[] {
  const issues: Issue[] = [];
  if (products.findIndex(({ id }) => id === product.id) < k)
    issues.push(
      issue(
        'lineup-duplicate-product',
        `${at}.id`,
        `${product.id} a second time`,
        'ids used once',
        'Give the product an id of its own',
      ),
    );
  const twin = products.findIndex(
    (other) => other.name === product.name && sameCrop(other.crop, product.crop),
  );
  if (twin < k)
    issues.push(
      issue(
        'lineup-duplicate-name',
        `${at}.name`,
        `${product.name} a second time`,
        'names used once for a crop: planters and ledgers know products by name',
        'Give the product a name of its own',
      ),
    );
  return issues;
}

function testedRange({ tested_plantsPerAc: tested }: Product, at: string): Issue[] {
  if (tested === null || tested.min < tested.max) return [];
  return [
    issue(
      'lineup-tested-range',
      `${at}.tested_plantsPerAc`,
      `${tested.min} to ${tested.max}`,
      'min under max',
      'Give the lowest and highest stand the trials covered',
    ),
  ];
}

function curveChecks({ response }: Product, at: string): Issue[] {
  if (response === null) return [];
  const doubt = curveDoubt(curveOf(response, response.reference_buPerAc));
  if (doubt === null) return [];
  return [
    issue(
      'response-no-best-stand',
      `${at}.response`,
      `a ${response.family} of bend ${response.bend}: ${doubt}`,
      'figures of which a best stand follows',
      'Correct the figures, or give the response as a line',
    ),
  ];
}

/** Where the variances stand in the lower triangle of a covariance of five. */
const VARIANCES = [0, 2, 5, 9, 14];

function covarianceChecks({ response }: Product, at: string): Issue[] {
  const covariance = response?.uncertainty?.covariance ?? [];
  const under = VARIANCES.find((k) => covariance[k] < 0);
  if (under === undefined) return [];
  return [
    issue(
      'variance-negative',
      `${at}.response.uncertainty.covariance[${under}]`,
      `a variance of ${covariance[under]}`,
      'none under zero',
      'Fit the lineup from its trials again',
    ),
  ];
}

function scaleChecks({ scales }: Lineup, where: string): Issue[] {
  return scales.flatMap(({ id, lowest, highest }, k) => {
    const at = `${where} › scales[${k}]`;
    const issues: Issue[] = [];
    if (!(lowest < highest))
      issues.push(
        issue(
          'scale-range',
          at,
          `${lowest} to ${highest}`,
          'lowest under highest',
          'Exchange the two, and say which is best',
        ),
      );
    if (scales.findIndex((other) => other.id === id) < k)
      issues.push(
        issue('scale-twice', at, `${id} a second time`, 'ids used once', 'Give the scale an id of its own'),
      );
    return issues;
  });
}

function ratingChecks({ ratings }: Product, scales: Lineup['scales'], at: string): Issue[] {
  return ratings.flatMap(({ of, value, scale }, k) => {
    const own = scales.find(({ id }) => id === scale);
    if (own && value >= own.lowest && value <= own.highest) return [];
    return [
      own
        ? issue(
            'rating-off-scale',
            `${at}.ratings[${k}]`,
            `${value} for ${of}`,
            `${own.lowest} to ${own.highest}`,
            'Correct the note, or leave it out where nothing was rated',
          )
        : issue(
            'rating-no-direction',
            `${at}.ratings[${k}]`,
            `${of} on a scale ${scale} that is not declared`,
            'a scale with its ends and which of them is best',
            'Declare the scale under scales',
          ),
    ];
  });
}

function plotChecks({ plots }: Product, sites: number, at: string): Issue[] {
  if (plots === null) return [];
  const { site, stand_plantsPerAc, yield_buPerAc } = plots;
  if (stand_plantsPerAc.length !== site.length || yield_buPerAc.length !== site.length)
    return [
      issue(
        'plots-not-even',
        `${at}.plots`,
        `${site.length} sites, ${stand_plantsPerAc.length} stands, ${yield_buPerAc.length} yields`,
        'one of each for every plot',
        'Fit the lineup from its trials again',
      ),
    ];
  const lost = site.findIndex((own) => own >= sites);
  return lost < 0
    ? []
    : [
        issue(
          'plot-no-site',
          `${at}.plots.site[${lost}]`,
          `site ${site[lost]}`,
          `an index under ${sites}, the number of sites listed`,
          'Fit the lineup from its trials again',
        ),
      ];
}
