import { type Issue, Refusal } from '../../engine/issue.ts';
import { isRated, type Product, type RatedProduct } from '../../engine/lineup/product.ts';
import { treatedSeed } from '../../engine/lineup/treated-seed.ts';
import { NO_TRIALS, trialsInCommon } from '../../engine/lineup/trials-in-common.ts';
import { sameCrop } from '../../engine/math/crop-name.ts';
import type { Lineup } from '../../plan/lineup-schema.ts';

export interface UsableLineup {
  readonly products: readonly RatedProduct[];
  readonly setAside: Readonly<Record<string, number>>;
  readonly issues: readonly Issue[];
}

/**
 * The products of the plan's crop that are not left out, and of which all is known that a rate needs, their seed with the treatments bought. Refuses a lineup without any; warns of those that lack something, and of ids left
 * out that it does not hold.
 */
export function usableLineup(
  lineup: Lineup,
  where: string,
  crop: string,
  leaveOut: readonly string[],
  treatments: readonly string[] = [],
): UsableLineup {
  const ofCrop = lineup.products.filter((product) => sameCrop(product.crop, crop));
  const wanted = ofCrop.filter((product) => !leaveOut.includes(product.id));
  const group = new Map(
    Array.from(trialsInCommon(lineup.products), (own, k) => [lineup.products[k].id, own] as const),
  );
  const products = wanted.filter(isRated).map((product) => ({
    ...treatedSeed(product, treatments),
    trialGroup: group.get(product.id) ?? NO_TRIALS,
  }));
  const lacking = wanted.filter((product) => !isRated(product));
  if (products.length === 0 && lacking.length > 0)
    throw new Refusal(lacks(lacking, where, 'No product or rate can be set'));
  if (products.length === 0) {
    const crops = [...new Set(lineup.products.map((product) => product.crop))];
    throw new Refusal({
      code: 'lineup-no-usable-product',
      where,
      found:
        lineup.products.length === 0
          ? 'no products'
          : `products for ${crops.join(', ')}${ofCrop.length ? ', all left out by the plan' : ''}`,
      expected: `at least one ${crop} product`,
      effect: 'No product or rate can be set',
      remedy: 'Choose a lineup for this crop, or leave fewer products out',
    });
  }
  const unknown = [...new Set(leaveOut)].filter(
    (id) => !lineup.products.some((product) => product.id === id),
  );
  const issues: Issue[] = unknown.map((id) => ({
    code: 'leave-out-no-product',
    severity: 'warning',
    where: 'lineup.leaveOut',
    found: id,
    expected: `an id of the lineup: ${namesOf(lineup.products.map((product) => product.id))}`,
    effect: 'Nothing is left out for it',
    remedy: 'Correct the id, or take it out of the list',
  }));
  issues.push(...notOffered(treatments, wanted));
  if (lacking.length > 0) {
    const effect =
      products.length === 1
        ? `They are not placed: ${products[0].name} is all there is to choose from`
        : 'They are not placed';
    issues.push({ ...lacks(lacking, where, effect), severity: 'warning' });
  }
  const setAside: Record<string, number> = {};
  if (lineup.products.length > ofCrop.length) setAside['other-crop'] = lineup.products.length - ofCrop.length;
  if (ofCrop.length > wanted.length) setAside['left-out'] = ofCrop.length - wanted.length;
  if (lacking.length > 0) setAside['not-known-enough'] = lacking.length;
  return { products, setAside, issues };
}

/** Treatments to be bought that no product is offered with. */
function notOffered(treatments: readonly string[], products: readonly Product[]): Issue[] {
  const offered = [...new Set(products.flatMap((product) => product.treatments.map(({ name }) => name)))];
  return treatments
    .filter((name) => !offered.includes(name))
    .map((name) => ({
      code: 'treatment-not-offered',
      severity: 'warning',
      where: 'rates.treatments',
      found: name,
      expected: offered.length > 0 ? `one of ${namesOf(offered)}` : 'a lineup that offers treatments',
      effect: 'No seed is bought with it',
      remedy: 'Correct the name, or take it out of the list',
    }));
}

/** What keeps products from being placed. */
function lacks(products: readonly Product[], where: string, effect: string) {
  const text = products.slice(0, 10).map((product) => {
    const missing = [
      product.pricePerUnit === null ? 'price' : '',
      product.response === null ? 'response to population' : '',
      product.tested_plantsPerAc === null ? 'tested stands' : '',
    ].filter(Boolean);
    return `${product.name} has no ${missing.join(' and no ')}`;
  });
  return {
    code: 'product-not-known-enough',
    where,
    found: `${text.join('; ')}${products.length > 10 ? `; and ${products.length - 10} more` : ''}`,
    expected: 'a price, a response and the stands it was tested at',
    effect,
    remedy: products.every(({ response, tested_plantsPerAc }) => response && tested_plantsPerAc)
      ? 'Set the price'
      : 'Set the price, and fit the response from trials (command line: eachacre fit)',
  };
}

/** Ids in a row, the first thirty of a long list. */
export function namesOf(ids: readonly string[]): string {
  const most = 30;
  return ids.length > most
    ? `${ids.slice(0, most).join(', ')} and ${ids.length - most} more`
    : ids.join(', ');
}
