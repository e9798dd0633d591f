import type { Issue } from '../../engine/issue.ts';
import type { RatedProduct } from '../../engine/lineup/product.ts';
import { trialGroups } from '../../engine/lineup/trial-groups.ts';
import type { ZoneChoice } from '../../engine/rates/assignment.ts';
import { figure } from '../figures.ts';
import { namesOf } from './usable-lineup.ts';

/** What the choice of products rests on: those planted that were tried at one site, and those that no trial holds against the others. Margins alone show neither. */
export function judgeTrials(products: readonly RatedProduct[], choices: readonly ZoneChoice[]): Issue[] {
  const planted = [...new Set(choices.map(({ chosen }) => chosen.product))].sort((a, b) => a - b);
  return [
    ...planted.filter((own) => triedAtOneSite(products[own])).map((own) => oneSite(products[own])),
    ...neverMet(products, planted),
  ];
}

/** A product of which the trials of one site are all that is known. */
export function triedAtOneSite({ fit }: RatedProduct): boolean {
  return fit !== null && fit.sites === 1;
}

function oneSite({ name, fit }: RatedProduct): Issue {
  return {
    code: 'planted-on-one-site',
    severity: 'warning',
    where: name,
    found: `${figure.count(fit?.plots ?? 0, 'plot')} at one site`,
    expected: 'trials at several sites: products do better here and worse there',
    effect: 'It is planted on little: what it would earn elsewhere is hardly known',
    remedy: 'Bring in more of its trials, plant it on a strip first, or set another product by hand',
  };
}

/** Planted products whose trials share no site, at first or second hand, with those of another that is open. */
function neverMet(products: readonly RatedProduct[], planted: readonly number[]): Issue[] {
  const groupOf = groupsOfProducts(products);
  const known = [...groupOf.keys()];
  return planted.flatMap((own) => {
    const group = groupOf.get(own);
    if (group === undefined) return [];
    const strangers = known.filter((other) => groupOf.get(other) !== group);
    if (strangers.length === 0) return [];
    const names = strangers.map((other) => products[other].name);
    return [
      {
        code: 'products-never-met',
        severity: 'warning',
        where: products[own].name,
        found: `no site in common with ${namesOf(names)}, nor by way of other products`,
        expected: 'trials that hold the products of a choice against each other',
        effect: 'That it leads them rests on what their sites were taken for, not on a comparison',
        remedy: 'Bring in trials in which they stood together, or choose between them by hand',
      } satisfies Issue,
    ];
  });
}

/** By product of which plots are known: the group of trials it stood in. */
function groupsOfProducts(products: readonly RatedProduct[]): ReadonlyMap<number, number> {
  const plots = products.flatMap(({ plots: own }, product) =>
    (own?.site ?? []).map((site) => ({ product, site })),
  );
  const sites = plots.reduce((most, { site }) => Math.max(most, site + 1), 0);
  const { of } = trialGroups(
    {
      products,
      sites: { length: sites },
      product: Uint32Array.from(plots, ({ product }) => product),
      site: Uint32Array.from(plots, ({ site }) => site),
    },
    plots.map((_, row) => row),
  );
  return new Map(plots.map(({ product, site }) => [product, of[site]]));
}
