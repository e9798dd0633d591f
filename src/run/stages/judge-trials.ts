import type { Issue } from '../../engine/issue.ts';
import type { RatedProduct } from '../../engine/lineup/product.ts';
import { NO_TRIALS, PLOTS_GONE, trialsInCommon } from '../../engine/lineup/trials-in-common.ts';
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

/** Whether a product is planted that no trial holds, at first or second hand, against another that is open. */
export function neverMetOf(products: readonly RatedProduct[], planted: readonly number[]) {
  const group = trialsInCommon(products);
  return planted.flatMap((own) => {
    if (group[own] === NO_TRIALS) return [];
    const strangers = products.flatMap((_, other) =>
      other === own ||
      group[other] === NO_TRIALS ||
      (group[other] === group[own] && group[own] !== PLOTS_GONE)
        ? []
        : [other],
    );
    return strangers.length > 0 ? [{ product: own, strangers, gone: group[own] === PLOTS_GONE }] : [];
  });
}

function neverMet(products: readonly RatedProduct[], planted: readonly number[]): Issue[] {
  return neverMetOf(products, planted).map(({ product, strangers, gone }) => {
    const names = namesOf(strangers.map((other) => products[other].name));
    return {
      code: 'products-never-met',
      severity: 'warning',
      where: products[product].name,
      found: gone
        ? `no plots any more to hold it against ${names}`
        : `no site in common with ${names}, nor by way of other products`,
      expected: 'trials that hold the products of a choice against each other',
      effect: 'That it leads them rests on what their sites were taken for, not on a comparison',
      remedy: 'Bring in trials in which they stood together, or choose between them by hand',
    };
  });
}
