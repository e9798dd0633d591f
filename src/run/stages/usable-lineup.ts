import { type Issue, Refusal } from '../../engine/issue.ts';
import type { Product } from '../../engine/lineup/product.ts';
import { sameCrop } from '../../engine/math/crop-name.ts';
import type { Lineup } from '../../plan/lineup-schema.ts';

export interface UsableLineup {
  readonly products: readonly Product[];
  readonly setAside: Readonly<Record<string, number>>;
  readonly issues: readonly Issue[];
}

/** The products of the plan's crop that are not left out. Refuses a lineup without any; warns of ids left out that it does not hold. */
export function usableLineup(
  lineup: Lineup,
  where: string,
  crop: string,
  leaveOut: readonly string[],
): UsableLineup {
  const ofCrop = lineup.products.filter((product) => sameCrop(product.crop, crop));
  const products = ofCrop.filter((product) => !leaveOut.includes(product.id));
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
  const setAside: Record<string, number> = {};
  if (lineup.products.length > ofCrop.length) setAside['other-crop'] = lineup.products.length - ofCrop.length;
  if (ofCrop.length > products.length) setAside['left-out'] = ofCrop.length - products.length;
  return { products, setAside, issues };
}

/** Ids in a row, the first thirty of a long list. */
export function namesOf(ids: readonly string[]): string {
  const most = 30;
  return ids.length > most
    ? `${ids.slice(0, most).join(', ')} and ${ids.length - most} more`
    : ids.join(', ');
}
