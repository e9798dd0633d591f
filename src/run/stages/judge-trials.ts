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

export interface NeverMet {
  readonly product: number;
  /** Open products of other trials. */
  readonly strangers: readonly number[];
}

/** Planted products that no trial holds, at first or second hand, against others that are open. Those whose plots were let go stay together: once they were fitted side by side. */
export function neverMetOf(products: readonly RatedProduct[], planted: readonly number[]): NeverMet[] {
  const group = trialsInCommon(products);
  return planted.flatMap((product) => {
    if (group[product] === NO_TRIALS) return [];
    const strangers = products.flatMap((_, other) =>
      group[other] === NO_TRIALS || group[other] === group[product] ? [] : [other],
    );
    return strangers.length > 0 ? [{ product, strangers }] : [];
  });
}

/** The same in few words: that planted products never met each other goes before the others they never met. */
export function neverMetWords(products: readonly RatedProduct[], planted: readonly number[]): string[] {
  const found = neverMetOf(products, planted);
  const apart = found.filter(({ strangers }) => planted.some((own) => strangers.includes(own)));
  const names = (own: readonly NeverMet[]) => own.map(({ product }) => products[product].name).join(' and ');
  if (apart.length > 1) return [`${names(apart)} were never tried beside each other`];
  return found.map(
    (own) =>
      `${names([own])} was never tried beside ${own.strangers.length} of the ${figure.count(products.length - 1, 'other product')}`,
  );
}

function neverMet(products: readonly RatedProduct[], planted: readonly number[]): Issue[] {
  const group = trialsInCommon(products);
  return neverMetOf(products, planted).map(({ product, strangers }) => ({
    code: 'products-never-met',
    severity: 'warning',
    where: products[product].name,
    found: `${group[product] === PLOTS_GONE ? 'no plots any more to hold it against' : 'no site in common with'} ${namesOf(strangers.map((other) => products[other].name))}${group[product] === PLOTS_GONE ? '' : ', nor by way of other products'}`,
    expected: 'trials that hold the products of a choice against each other',
    effect: 'How it compares with them rests on what their sites were taken for; no trial tells',
    remedy: 'Bring in trials in which they stood together, or plant them side by side first',
  }));
}
